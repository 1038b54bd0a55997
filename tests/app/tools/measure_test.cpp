// SPDX-License-Identifier: MIT
#include "app/tools/measure.h"

#include "app/tools/surroundings.h"
#include "tests/app/tools/bench.h"

#include <QTest>

namespace touchmark {
namespace {

class MeasureTool : public test::ToolBench {};

TEST_F(MeasureTool, GivesTheDistanceBetweenTwoPointsOfThePart) {
    tools::Surroundings around(*session, *viewport);
    tools::MeasureTool tool(around);
    viewport->add_handler(&tool);
    tool.set_running(true);
    const QPoint from =
        on_screen(session->part()->faces()[static_cast<std::size_t>(front)].centroid) + QPoint(-200, 60);
    const QPoint to = from + QPoint(0, 90);
    QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, from);
    QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, to);
    ASSERT_TRUE(tool.distance_mm());
    // Squarely seen, 90 pixels are so many millimetres.
    EXPECT_NEAR(*tool.distance_mm(), 90 / viewport->pixels_per_mm(viewport->pick(from)->point), 0.1);
    viewport->remove_handler(&tool);
}

} // namespace
} // namespace touchmark
