// SPDX-License-Identifier: MIT
#include "tests/app/tools/bench.h"

#include <QTest>

#include <cmath>

namespace touchmark {
namespace {

class TurnAndSizeTool : public test::ToolBench {
protected:
    [[nodiscard]] double cap_height() const { return std::get<content::Text>(mark().content).cap_height.value; }
    /// About the mark's middle, counter-clockwise on the screen.
    [[nodiscard]] QPoint turned(QPointF point, double degrees) const {
        const QPointF middle = viewport->to_widget(middle_of(mark())), off = point - middle;
        const double a = -degrees * M_PI / 180;
        return (middle +
                QPointF(off.x() * std::cos(a) - off.y() * std::sin(a), off.x() * std::sin(a) + off.y() * std::cos(a)))
            .toPoint();
    }
    QPointF knob, corner;
};

TEST_F(TurnAndSizeTool, HasHandlesForTheSelectedMarkOnly) {
    add_mark();
    EXPECT_TRUE(toolbox->handles(knob, corner));
    EXPECT_TRUE(QRectF(viewport->rect()).contains(knob));
    session->select_mark({});
    EXPECT_FALSE(toolbox->handles(knob, corner));
}

TEST_F(TurnAndSizeTool, HidesThemWhenTheMarkIsOnTheFarSide) {
    add_mark();
    viewport->look({0, 1, 0}, {0, 0, 1});
    viewport->arrive();
    EXPECT_FALSE(toolbox->handles(knob, corner));
}

TEST_F(TurnAndSizeTool, TheKnobTurnsTheMarkWithThePointer) {
    add_mark();
    ASSERT_TRUE(toolbox->handles(knob, corner));
    const double before = mark().anchor.turn.value;
    drag(knob.toPoint(), turned(knob, 40));
    EXPECT_NEAR(mark().anchor.turn.value, before + 40, 2);
    EXPECT_EQ(mark().anchor.turn.value, std::round(mark().anchor.turn.value)) << "whole degrees";
}

TEST_F(TurnAndSizeTool, ShiftSnapsToFifteenDegrees) {
    add_mark();
    ASSERT_TRUE(toolbox->handles(knob, corner));
    drag(knob.toPoint(), turned(knob, 40), Qt::ShiftModifier);
    EXPECT_NEAR(std::remainder(mark().anchor.turn.value, 15), 0, 1e-9);
    EXPECT_NEAR(mark().anchor.turn.value, 45, 0.1);
}

TEST_F(TurnAndSizeTool, ACornerSizesTheLettersInOneStep) {
    add_mark();
    ASSERT_TRUE(toolbox->handles(knob, corner));
    const double before = cap_height();
    const int steps = session->history().count();
    const QPointF middle = viewport->to_widget(middle_of(mark()));
    drag(corner.toPoint(), (middle + (corner - middle) * 1.5).toPoint());
    EXPECT_NEAR(cap_height(), before * 1.5, 0.25);
    EXPECT_NEAR(std::remainder(cap_height(), 0.1), 0, 1e-6) << "tenths of a millimetre";
    EXPECT_EQ(session->history().count(), steps + 1);
    session->history().undo();
    EXPECT_EQ(cap_height(), before);
}

TEST_F(TurnAndSizeTool, EscapeLeavesTheMarkAsItWas) {
    add_mark();
    ASSERT_TRUE(toolbox->handles(knob, corner));
    const job::Job before = session->job();
    move_to(corner.toPoint());
    QTest::mousePress(viewport.get(), Qt::LeftButton, {}, corner.toPoint());
    move_to(corner.toPoint() + QPoint(60, -60), Qt::LeftButton);
    EXPECT_NE(session->job(), before);
    QTest::keyClick(viewport.get(), Qt::Key_Escape);
    EXPECT_EQ(session->job(), before);
}

} // namespace
} // namespace touchmark
