// SPDX-License-Identifier: MIT
#include "app/tools/place.h"

#include "tests/app/support/application.h"
#include "tests/app/tools/bench.h"

#include <QDropEvent>
#include <QMimeData>

namespace touchmark {
namespace {

class PlaceTool : public test::ToolBench {
protected:
    [[nodiscard]] QPoint over_front() const {
        return on_screen(session->part()->faces()[static_cast<std::size_t>(front)].centroid) + QPoint(-180, 60);
    }
};

TEST_F(PlaceTool, ShowsTheMarkUnderThePointerAndPlacesItWithAClick) {
    const int steps = session->history().count();
    toolbox->place_mark("NEW");
    ASSERT_TRUE(toolbox->placing());
    move_to(over_front());
    ASSERT_EQ(session->job().marks.size(), 1U) << "a preview";
    move_to(over_front() + QPoint(20, -10));
    EXPECT_LT((on_screen(middle_of(mark())) - (over_front() + QPoint(20, -10))).manhattanLength(), 3);
    QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, over_front());
    EXPECT_FALSE(toolbox->placing());
    ASSERT_EQ(session->job().marks.size(), 1U);
    EXPECT_EQ(mark().anchor.face, front);
    EXPECT_EQ(std::get<content::Text>(mark().content).text, "NEW");
    EXPECT_EQ(session->selected_mark().toStdString(), mark().id);
    EXPECT_EQ(session->history().count(), steps + 1);
}

TEST_F(PlaceTool, EscapeLeavesNothingBehind) {
    const job::Job before = session->job();
    toolbox->place_mark("NEW");
    move_to(over_front());
    QTest::keyClick(viewport.get(), Qt::Key_Escape);
    EXPECT_FALSE(toolbox->placing());
    EXPECT_EQ(session->job(), before);
    EXPECT_EQ(session->history().count(), 0);
}

TEST_F(PlaceTool, ThePreviewGoesWhenThePointerLeavesThePart) {
    toolbox->place_mark("NEW");
    move_to(over_front());
    move_to({3, 3});
    EXPECT_TRUE(session->job().marks.empty());
    EXPECT_TRUE(toolbox->placing());
}

TEST_F(PlaceTool, ADropFromTheRailPlacesAMark) {
    QMimeData data;
    data.setData(tools::mark_mime_type, "TEXT");
    QDragEnterEvent enter(over_front(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(viewport.get(), &enter);
    EXPECT_TRUE(enter.isAccepted());
    QDragMoveEvent move(over_front(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(viewport.get(), &move);
    EXPECT_TRUE(move.isAccepted());
    QDropEvent drop(QPointF(over_front()), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(viewport.get(), &drop);
    EXPECT_TRUE(drop.isAccepted());
    ASSERT_EQ(session->job().marks.size(), 1U);
    EXPECT_EQ(session->history().count(), 1);
}

TEST_F(PlaceTool, ADragThatLeavesIsForgotten) {
    QMimeData data;
    data.setData(tools::mark_mime_type, "TEXT");
    QDragEnterEvent enter(over_front(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(viewport.get(), &enter);
    EXPECT_EQ(session->job().marks.size(), 1U);
    QDragLeaveEvent leave;
    QApplication::sendEvent(viewport.get(), &leave);
    EXPECT_TRUE(session->job().marks.empty());
    EXPECT_FALSE(session->in_gesture());
}

TEST_F(PlaceTool, LeavesOtherDragsToTheWindow) {
    QMimeData data;
    data.setUrls({QUrl("file:///part.step")});
    QDragEnterEvent enter(over_front(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(viewport.get(), &enter);
    EXPECT_FALSE(enter.isAccepted());
}

} // namespace
} // namespace touchmark
