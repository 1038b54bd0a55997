// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

#include <functional>

class QKeyEvent;
class QMouseEvent;

namespace touchmark::tools {

/// The hand on the marks: click selects, drag moves over the surface and across faces, arrow keys nudge, Ctrl+arrows
/// turn, Delete removes, typing goes to the mark's text, Esc backs out.
class MoveTool : public viewport::Handler {
public:
    explicit MoveTool(Surroundings& around) : around_(around) {}

    bool handle(QEvent& event) override;
    void paint(QPainter& painter) override;

    std::function<void(const QString& text)> typed; ///< for the selected mark's text; empty: only go there

private:
    bool press(const QMouseEvent& event);
    bool move(const QMouseEvent& event);
    bool release(const QMouseEvent& event);
    bool key(QKeyEvent& event);
    void carry(QPointF to);
    void stop(bool keep);
    void nudge(Vec2 on_screen, double step_mm);
    void turn(double by_degrees);
    void hover(QPointF at);

    Surroundings& around_;
    std::optional<QPointF> pressed_; ///< where a left press began, whoever took it
    std::string held_;               ///< the mark under it
    bool carrying_ = false;
    Vec2 grip_;        ///< where on the mark it is held
    Degrees lean_;     ///< its turn from upright
    QString obstacle_; ///< why it does not go where the pointer is
    QPointF pointer_;
};

} // namespace touchmark::tools
