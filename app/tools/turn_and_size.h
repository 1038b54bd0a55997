// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

class QMouseEvent;

namespace touchmark::tools {

/// Handles round the selected mark: a ring with a knob turns it (Shift: steps of 15°), corners size it.
class TurnAndSizeTool : public viewport::Handler {
public:
    explicit TurnAndSizeTool(Surroundings& around) : around_(around) {}

    bool handle(QEvent& event) override;
    void paint(QPainter& painter) override;

    /// Where the handles are, widget coordinates; empty when none are shown. Corners: from the mark's lower left,
    /// counter-clockwise.
    struct Handles {
        bool shown = false;
        QPointF knob;
        std::array<QPointF, 4> corners;
        QPolygonF frame, ring;
    };
    [[nodiscard]] Handles handles() const;

private:
    enum class Grip { none, knob, corner };
    struct Under {
        Grip grip = Grip::none;
        std::size_t corner = 0;
    };
    [[nodiscard]] Under under(QPointF at) const;
    bool press(const QMouseEvent& event);
    void drag(const QMouseEvent& event);
    void stop(bool keep);

    Surroundings& around_;
    Under hot_, held_;
    std::string mark_;
    Vec2 start_; ///< face mm from the mark's origin where the drag began
    Degrees start_turn_;
    double start_height_ = 0; ///< cap height, mm
    QPointF pointer_;
    QString figure_;
};

} // namespace touchmark::tools
