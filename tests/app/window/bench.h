// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/viewport.h"
#include "app/window/banner.h"
#include "app/window/files.h"
#include "app/window/main_window.h"
#include "app/window/stage.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QAbstractButton>
#include <QMessageBox>
#include <QTemporaryDir>
#include <QTimer>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {

/// The program's own window, with settings of its own.
class Bench : public testing::Test {
protected:
    void SetUp() override {
        window = std::make_unique<window::MainWindow>(
            window::MainWindow::Options{.parts = session_parts(), .settings_file = folder.filePath("settings.ini")});
        window->resize(1280, 720);
        window->show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(window.get()));
        window->activateWindow();
    }
    [[nodiscard]] session::Session& session() const { return window->session(); }
    void open(const std::filesystem::path& file) {
        window->files().open(QString::fromStdString(file.string()));
        ASSERT_TRUE(wait_until([&] {
            return session().part() && session().evaluation_is_final() &&
                   std::filesystem::equivalent(
                       session().job_file().empty() ? session().job().part.file : session().job_file(), file);
        })) << window->banner().message().toStdString();
        window->stage().viewport().arrive();
        QTest::qWait(50);
    }
    void settle() {
        ASSERT_TRUE(wait_until([&] { return session().evaluation_is_final(); }));
    }
    template <class T> [[nodiscard]] T* named(const QString& name) const {
        for (T* widget : window->findChildren<T*>())
            if (widget->accessibleName() == name && widget->isVisible()) return widget;
        return nullptr;
    }
    /// A point of the viewport with flat side wall around it, the widest there is.
    [[nodiscard]] QPoint over_side_wall() const {
        viewport::Viewport& viewport = window->stage().viewport();
        QPoint best;
        int best_room = 0;
        for (int y = 40; y < viewport.height(); y += 16)
            for (int x = 40; x < viewport.width(); x += 16) {
                const auto hit = viewport.pick(QPointF(x, y));
                if (!hit || hit->face < 0 || !upright(*hit)) continue;
                int room = 0;
                for (const int dx : {-96, -64, -32, 32, 64, 96})
                    for (const int dy : {-24, 0, 24}) {
                        const auto near = viewport.pick(QPointF(x + dx, y + dy));
                        room += near && near->face == hit->face ? 1 : 0;
                    }
                if (room > best_room) {
                    best_room = room;
                    best = QPoint(x, y);
                }
            }
        return best;
    }
    [[nodiscard]] bool upright(const viewport::Hit& hit) const {
        const part::Face& face = session().part()->faces()[static_cast<std::size_t>(hit.face)];
        return face.kind == part::FaceKind::plane &&
               std::abs(session().evaluation()->placement.direction(hit.normal).z) < 0.1;
    }
    /// Presses a button of the next question as soon as it is up.
    void answer(QMessageBox::StandardButton with) {
        QTimer::singleShot(50, window.get(), [this, with] {
            if (auto* question = qobject_cast<QMessageBox*>(QApplication::activeModalWidget()))
                question->button(with)->click();
            else
                answer(with);
        });
    }
    [[nodiscard]] std::filesystem::path file(const char* name) const { return folder.filePath(name).toStdString(); }

    QTemporaryDir folder;
    std::unique_ptr<window::MainWindow> window;
};

} // namespace touchmark::test
