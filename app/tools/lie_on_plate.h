// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

#include <functional>

namespace touchmark::tools {

/// The next flat face that is clicked lies on the plate; the one under the pointer is shown.
class LieOnPlateTool : public viewport::Handler {
public:
    explicit LieOnPlateTool(Surroundings& around) : around_(around) {}

    bool handle(QEvent& event) override;
    void paint(QPainter& painter) override;
    void set_running(bool running);
    [[nodiscard]] bool running() const { return running_; }

    std::function<void(bool)> running_changed;

private:
    [[nodiscard]] const part::Face* flat_face_at(QPointF at);
    void mean(int face);

    Surroundings& around_;
    bool running_ = false;
    int meant_ = -1; ///< the face under the pointer
    QString obstacle_;
    QPointF pointer_, pressed_;
};

} // namespace touchmark::tools
