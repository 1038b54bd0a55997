// SPDX-License-Identifier: MIT
#include "core/surface/face_map.h"
#include "tests/app/tools/bench.h"

#include <QSignalSpy>
#include <QTest>

namespace touchmark {
namespace {

class MoveTool : public test::ToolBench {};

TEST_F(MoveTool, AClickSelectsAndAClickBesideEverythingDeselects) {
    add_mark("AB", {-18, 4});
    session->select_mark({});
    QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, on_screen(middle_of(mark())));
    EXPECT_EQ(session->selected_mark().toStdString(), mark().id);
    QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, {5, 5});
    EXPECT_TRUE(session->selected_mark().isEmpty());
}

TEST_F(MoveTool, ADragTakesTheMarkAlongUnderThePointerInOneStep) {
    add_mark();
    const int steps = session->history().count();
    const QPoint from = on_screen(middle_of(mark())), to = from + QPoint(-40, 30);
    drag(from, to);
    EXPECT_LT((on_screen(middle_of(mark())) - to).manhattanLength(), 3);
    EXPECT_EQ(session->history().count(), steps + 1);
    session->history().undo();
    EXPECT_LT((on_screen(middle_of(mark())) - from).manhattanLength(), 3);
}

TEST_F(MoveTool, HoldsTheMarkWhereItWasTakenHold) {
    add_mark("ABCDEF");
    const Vec3 before = middle_of(mark());
    const QPoint grip = on_screen(before) + QPoint(25, 4);
    drag(grip, grip + QPoint(30, 0));
    const double mm = 30 / viewport->pixels_per_mm(before);
    EXPECT_NEAR(distance(middle_of(mark()), before), mm, 0.05);
}

TEST_F(MoveTool, EscapePutsTheMarkBack) {
    add_mark();
    const job::Job before = session->job();
    const QPoint from = on_screen(middle_of(mark()));
    QTest::mousePress(viewport.get(), Qt::LeftButton, {}, from);
    move_to(from + QPoint(40, 0), Qt::LeftButton);
    EXPECT_NE(session->job(), before);
    QTest::keyClick(viewport.get(), Qt::Key_Escape);
    EXPECT_EQ(session->job(), before);
    EXPECT_FALSE(session->in_gesture());
    QTest::mouseRelease(viewport.get(), Qt::LeftButton, {}, from + QPoint(40, 0));
    EXPECT_EQ(session->job(), before);
}

TEST_F(MoveTool, ArrowKeysNudgeTheWayTheyPoint) {
    add_mark();
    const Vec3 before = middle_of(mark());
    QTest::keyClick(viewport.get(), Qt::Key_Right);
    EXPECT_NEAR(distance(middle_of(mark()), before + Vec3{0.1, 0, 0}), 0, 1e-6);
    QTest::keyClick(viewport.get(), Qt::Key_Up, Qt::ShiftModifier);
    EXPECT_NEAR(distance(middle_of(mark()), before + Vec3{0.1, 0, 1.0}), 0, 1e-6);
}

TEST_F(MoveTool, NudgesThatFollowEachOtherAreOneStep) {
    add_mark();
    const int steps = session->history().count();
    for (int i = 0; i < 5; ++i)
        QTest::keyClick(viewport.get(), Qt::Key_Left);
    EXPECT_EQ(session->history().count(), steps + 1);
}

TEST_F(MoveTool, ControlArrowTurnsByADegree) {
    add_mark();
    const double before = mark().anchor.turn.value;
    QTest::keyClick(viewport.get(), Qt::Key_Left, Qt::ControlModifier);
    EXPECT_NEAR(mark().anchor.turn.value, before + 1, 1e-9);
    QTest::keyClick(viewport.get(), Qt::Key_Right, Qt::ControlModifier);
    EXPECT_NEAR(mark().anchor.turn.value, before, 1e-9);
}

TEST_F(MoveTool, DeleteRemovesAndUndoBringsBack) {
    add_mark();
    QTest::keyClick(viewport.get(), Qt::Key_Delete);
    EXPECT_TRUE(session->job().marks.empty());
    session->history().undo();
    EXPECT_EQ(session->job().marks.size(), 1U);
}

TEST_F(MoveTool, TypingGoesToTheSelectedMarksText) {
    QSignalSpy typed(toolbox.get(), &tools::Toolbox::text_typed);
    QTest::keyClicks(viewport.get(), "x");
    EXPECT_TRUE(typed.isEmpty()) << "nothing is selected";
    add_mark();
    QTest::keyClicks(viewport.get(), "7");
    ASSERT_EQ(typed.size(), 1);
    EXPECT_EQ(typed.front().front().toString(), "7");
}

TEST_F(MoveTool, StandsUprightOnAnotherWall) {
    add_mark();
    viewport->look({1, -0.8, 0.1}, {0, 0, 1});
    viewport->arrive();
    (void)viewport->grab_image();
    surface::FaceMapPtr map; // of a wall to the right that is in sight
    for (const part::Face& face : session->part()->faces()) {
        if (face.kind != part::FaceKind::plane || face.frame.z.x < 0.99) continue;
        const auto of_face = *surface::map_face(*session->part(), face.index);
        // The middle of the largest rectangle lies on the face; the centroid of an angled face does not.
        if (viewport->visible(of_face->point({}) + face.frame.z * 0.05)) map = of_face;
    }
    ASSERT_NE(map, nullptr);
    drag(on_screen(middle_of(mark())), on_screen(map->point({})));
    ASSERT_EQ(mark().anchor.face, map->face());
    const Vec3 x = map->x_direction(mark().anchor.at), y = cross(map->normal(mark().anchor.at), x);
    const double turn = mark().anchor.turn.radians();
    EXPECT_NEAR((x * -std::sin(turn) + y * std::cos(turn)).z, 1, 1e-6) << "the letters' up is the plate's";
}

TEST_F(MoveTool, GoesToARoundFaceOnlyIfThatTakesMarks) {
    add_mark();
    const part::Face* hole = nullptr;
    for (const part::Face& face : session->part()->faces())
        if (face.kind == part::FaceKind::cylinder && std::abs(face.frame.z.y) > 0.99) hole = &face;
    ASSERT_NE(hole, nullptr);
    viewport->look({0.5, -1, 0.2}, {0, 0, 1});
    viewport->arrive();
    (void)viewport->grab_image();
    QPoint inside; // a point of the widget over the round wall
    for (int y = 0; y < viewport->height() && inside.isNull(); y += 4)
        for (int x = 0; x < viewport->width(); x += 4)
            if (const auto hit = viewport->pick(QPointF(x, y)); hit && hit->face == hole->index) inside = QPoint(x, y);
    ASSERT_FALSE(inside.isNull());
    const QPoint from = on_screen(middle_of(mark()));
    QTest::mousePress(viewport.get(), Qt::LeftButton, {}, from);
    move_to(from + QPoint(8, 0), Qt::LeftButton);
    const job::Job before = session->job();
    move_to(inside, Qt::LeftButton);
    const bool mapped = surface::map_face(*session->part(), hole->index).has_value();
    if (!mapped) {
        EXPECT_EQ(session->job(), before);
    }
    EXPECT_EQ(viewport->cursor().shape(), mapped ? Qt::ClosedHandCursor : Qt::ForbiddenCursor);
    QTest::mouseRelease(viewport.get(), Qt::LeftButton, {}, inside);
    EXPECT_EQ(mark().anchor.face, mapped ? hole->index : front);
}

} // namespace
} // namespace touchmark
