// SPDX-License-Identifier: MIT
#pragma once

#include <QApplication>
#include <QTest>
#include <functional>
#include <gtest/gtest.h>

namespace touchmark::test {

/// A QApplication for the tests of one program: made after the part reader has forked, gone before the program ends.
class Application : public testing::Environment {
public:
    void SetUp() override {
        if (qEnvironmentVariableIsEmpty("DISPLAY") && qEnvironmentVariableIsEmpty("WAYLAND_DISPLAY"))
            qputenv("QT_QPA_PLATFORM", "offscreen");
        application_ = std::make_unique<QApplication>(count_, arguments_);
    }
    void TearDown() override { application_.reset(); }

private:
    int count_ = 1;
    char name_[5] = "test";
    char* arguments_[2] = {name_, nullptr};
    std::unique_ptr<QApplication> application_;
};

/// Lets the event loop run until `done`, at most this long.
inline bool wait_until(const std::function<bool()>& done, int milliseconds = 60'000) {
    return QTest::qWaitFor(done, milliseconds);
}

} // namespace touchmark::test
