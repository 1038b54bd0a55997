// SPDX-License-Identifier: MIT
#include "tests/app/tools/bench.h"

#include <QLineEdit>
#include <QMenu>
#include <QTest>

namespace touchmark {
namespace {

class KeepClearTool : public test::ToolBench {
protected:
    /// Clicks the front wall and gives what pops up.
    QMenu* asked() {
        toolbox->set_keeping_clear(true);
        QTest::mouseClick(viewport.get(), Qt::LeftButton, {}, at());
        return viewport->findChild<QMenu*>("keep_clear");
    }
    [[nodiscard]] QPoint at() const {
        return on_screen(session->part()->faces()[static_cast<std::size_t>(front)].centroid) + QPoint(-180, 60);
    }
};

TEST_F(KeepClearTool, KeepsTheClickedFaceClearForTheChosenReason) {
    QMenu* menu = asked();
    ASSERT_NE(menu, nullptr);
    menu->findChild<QLineEdit*>()->setText(" O-ring 32 × 2 ");
    menu->findChild<QAction*>("sealing")->trigger();
    const job::ClearFace* kept = job::kept_clear(session->job(), front);
    ASSERT_NE(kept, nullptr);
    EXPECT_EQ(kept->reason, job::ClearReason::sealing);
    EXPECT_EQ(kept->note, "O-ring 32 × 2");
    EXPECT_EQ(kept->fingerprint, session->part()->faces()[static_cast<std::size_t>(front)].fingerprint);
    EXPECT_TRUE(toolbox->keeping_clear()) << "for the next face";
    session->history().undo();
    EXPECT_TRUE(session->job().kept_clear.empty());
}

TEST_F(KeepClearTool, ReleasesItByTheSameMenu) {
    EXPECT_FALSE(asked()->findChild<QAction*>("release")->isEnabled());
    viewport->findChild<QMenu*>("keep_clear")->findChild<QAction*>("mating")->trigger();
    viewport->findChild<QMenu*>("keep_clear")->close();
    QMenu* menu = asked();
    EXPECT_TRUE(menu->findChild<QAction*>("mating")->isChecked());
    menu->findChild<QAction*>("release")->trigger();
    EXPECT_TRUE(session->job().kept_clear.empty());
}

TEST_F(KeepClearTool, TintsTheFace) {
    const auto colour = [&] { return viewport->grab_image().pixelColor(at()); };
    const QColor before = colour();
    ASSERT_TRUE(session->edit(
        "", [this](const job::Job& job) { return job::keep_clear(job, {front, {}, job::ClearReason::sealing, {}}); }));
    EXPECT_NE(colour(), before);
    session->history().undo();
    EXPECT_EQ(colour(), before);
}

TEST_F(KeepClearTool, EscapeLeavesAndAnotherToolEndsIt) {
    toolbox->set_keeping_clear(true);
    QTest::keyClick(viewport.get(), Qt::Key_Escape);
    EXPECT_FALSE(toolbox->keeping_clear());
    toolbox->set_keeping_clear(true);
    toolbox->set_laying_face(true);
    EXPECT_FALSE(toolbox->keeping_clear());
}

} // namespace
} // namespace touchmark
