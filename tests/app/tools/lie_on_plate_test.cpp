// SPDX-License-Identifier: MIT
#include "tests/app/tools/bench.h"

#include <QTest>

namespace touchmark {
namespace {

class LieOnPlateTool : public test::ToolBench {};

TEST_F(LieOnPlateTool, TheClickedFaceLooksDownAndTouchesThePlate) {
    const part::Face& wall = session->part()->faces()[static_cast<std::size_t>(front)];
    toolbox->set_laying_face(true);
    const QPoint at = on_screen(wall.centroid) + QPoint(-180, 60);
    ASSERT_EQ(viewport->pick(at)->face, front);
    move_to(at);
    QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, at);
    EXPECT_FALSE(toolbox->laying_face());
    const plate::Placement placement = plate::placement_of(session->job().pose, session->meshes());
    EXPECT_NEAR(placement.direction(wall.frame.z).z, -1, 1e-9);
    EXPECT_NEAR(placement(wall.centroid).z, 0, 1e-4);
    EXPECT_EQ(session->history().count(), 1);
}

TEST_F(LieOnPlateTool, ShowsTheFaceUnderThePointer) {
    const QImage before = viewport->grab_image();
    toolbox->set_laying_face(true);
    const QPoint at = on_screen(session->part()->faces()[static_cast<std::size_t>(front)].centroid) + QPoint(-180, 60);
    move_to(at);
    EXPECT_NE(viewport->grab_image().pixel(at), before.pixel(at));
    move_to({3, 3});
    EXPECT_EQ(viewport->grab_image().pixel(at), before.pixel(at));
}

TEST_F(LieOnPlateTool, EscapeLeaves) {
    toolbox->set_laying_face(true);
    QTest::keyClick(viewport.get(), Qt::Key_Escape);
    EXPECT_FALSE(toolbox->laying_face());
}

TEST_F(LieOnPlateTool, StartingAnotherToolEndsIt) {
    toolbox->set_laying_face(true);
    toolbox->place_mark("NEW");
    EXPECT_FALSE(toolbox->laying_face());
    EXPECT_TRUE(toolbox->placing());
    toolbox->set_measuring(true);
    EXPECT_FALSE(toolbox->placing());
    EXPECT_FALSE(session->in_gesture());
}

} // namespace
} // namespace touchmark
