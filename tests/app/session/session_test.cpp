// SPDX-License-Identifier: MIT
#include "app/session/session.h"

#include "core/job/parameter.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QElapsedTimer>
#include <QSignalSpy>
#include <gtest/gtest.h>

namespace touchmark {
namespace {

using session::Change;
using session::Session;

job::Edit height(const std::string& mark, double mm) {
    return [=](const job::Job& job) { return job::set_parameter(job, mark, "cap_height", mm); };
}

double height_of(const job::Job& job, std::size_t mark = 0) {
    return std::get<content::Text>(job.marks.at(mark).content).cap_height.value;
}

class SessionOnDemo : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
        const job::Mark mark = test::mark_on_side_wall(session, "A-17");
        ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
        id = session.job().marks.front().id;
    }
    Session session{test::session_parts()};
    std::string id;
};

TEST_F(SessionOnDemo, ANewMarkIsSelectedAndOneStepInTheHistory) {
    EXPECT_EQ(session.selected_mark().toStdString(), id);
    EXPECT_EQ(session.history().count(), 1);
    EXPECT_TRUE(session.modified());
    session.history().undo();
    EXPECT_TRUE(session.job().marks.empty());
    EXPECT_TRUE(session.selected_mark().isEmpty());
    EXPECT_FALSE(session.modified());
    session.history().redo();
    EXPECT_EQ(session.job().marks.size(), 1U);
    EXPECT_EQ(session.selected_mark().toStdString(), id);
}

TEST_F(SessionOnDemo, AnEditThatChangesNothingLeavesNoStep) {
    const int before = session.history().count();
    ASSERT_TRUE(session.edit("Nothing", [](const job::Job& job) -> Result<job::Job> { return job; }));
    EXPECT_EQ(session.history().count(), before);
}

TEST_F(SessionOnDemo, ARefusedEditSaysWhyAndChangesNothing) {
    const job::Job before = session.job();
    const Status refused = session.edit("Too high", height(id, 1e9));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, "job.out_of_range");
    EXPECT_EQ(session.job(), before);
}

TEST_F(SessionOnDemo, StepsOfOneFieldWithinASecondAreOneUndo) {
    const int before = session.history().count();
    for (const double mm : {5.5, 6.0, 6.5})
        ASSERT_TRUE(session.edit_merged("Cap height", "height", height(id, mm)));
    EXPECT_EQ(session.history().count(), before + 1);
    ASSERT_TRUE(session.edit_merged("Depth", "depth",
                                    [this](const job::Job& job) { return job::set_parameter(job, id, "depth", 0.8); }));
    EXPECT_EQ(session.history().count(), before + 2) << "another field is another step";
    QTest::qWait(1100);
    ASSERT_TRUE(session.edit_merged("Depth", "depth",
                                    [this](const job::Job& job) { return job::set_parameter(job, id, "depth", 0.9); }));
    EXPECT_EQ(session.history().count(), before + 3) << "after a pause it is a new step";
    session.history().undo();
    session.history().undo();
    session.history().undo();
    EXPECT_DOUBLE_EQ(height_of(session.job()), 5);
}

TEST_F(SessionOnDemo, ThereAndBackWithinASecondIsNoStep) {
    const int before = session.history().count();
    ASSERT_TRUE(session.edit_merged("Cap height", "height", height(id, 6)));
    ASSERT_TRUE(session.edit_merged("Cap height", "height", height(id, 5)));
    EXPECT_EQ(session.history().count(), before);
    EXPECT_DOUBLE_EQ(height_of(session.job()), 5);
}

TEST_F(SessionOnDemo, ADragIsOneStepAndEveryMoveStartsFromItsBeginning) {
    const int before = session.history().count();
    session.begin_gesture("Move");
    for (int i = 1; i <= 20; ++i)
        ASSERT_TRUE(session.gesture(
            [this](const job::Job& job) { return job::set_parameter(job, id, "cap_height", height_of(job) + 1); }));
    EXPECT_TRUE(session.in_gesture());
    EXPECT_DOUBLE_EQ(height_of(session.job()), 6) << "twenty moves from the start, not on top of each other";
    session.end_gesture();
    EXPECT_EQ(session.history().count(), before + 1);
    session.history().undo();
    EXPECT_DOUBLE_EQ(height_of(session.job()), 5);
}

TEST_F(SessionOnDemo, AnAbandonedDragLeavesEverythingAsItWas) {
    const job::Job before = session.job();
    const int steps = session.history().count();
    session.begin_gesture("Move");
    ASSERT_TRUE(session.gesture(height(id, 9)));
    session.abandon_gesture();
    EXPECT_EQ(session.job(), before);
    EXPECT_EQ(session.history().count(), steps);
    EXPECT_FALSE(session.in_gesture());
}

TEST_F(SessionOnDemo, EditingNeverBlocksAndTheLastEditIsWhatIsEvaluated) {
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    QElapsedTimer clock;
    clock.start();
    for (int i = 0; i < 200; ++i)
        ASSERT_TRUE(session.edit_merged("Cap height", "height", height(id, 3 + 0.01 * i)));
    EXPECT_LT(clock.elapsed(), 2000) << "200 edits on the interface thread; 10 ms each is far more than they may take";
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    EXPECT_DOUBLE_EQ(height_of(session.evaluation()->job), 3 + 0.01 * 199);
}

TEST_F(SessionOnDemo, FindingsKeepComingWhileTheHandMoves) {
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    QSignalSpy changes(&session, &Session::changed);
    session.begin_gesture("Size");
    for (int i = 0; i < 40; ++i) {
        ASSERT_TRUE(session.gesture(height(id, 4 + 0.05 * i)));
        QTest::qWait(16);
    }
    int evaluations = 0;
    for (const QList<QVariant>& signal : changes)
        if (signal.front().value<session::Changes>() & Change::evaluation) ++evaluations;
    EXPECT_GE(evaluations, 3) << "a newer position must not starve the one being evaluated";
    session.end_gesture();
}

TEST_F(SessionOnDemo, TheExactSolidFollowsTheLastEdit) {
    ASSERT_TRUE(test::wait_until([&] { return session.solid() != nullptr || session.solid_trouble(); }));
    ASSERT_FALSE(session.solid_trouble()) << session.solid_trouble()->message;
    const auto meshes = session.solid_meshes();
    ASSERT_TRUE(meshes);
    EXPECT_EQ(meshes->meshes.size(), session.solid()->part->faces().size());
    EXPECT_EQ(meshes->host_faces.size(), meshes->meshes.size());
    std::size_t own = 0;
    for (std::size_t i = 0; i < meshes->host_faces.size(); ++i) {
        const bool of_mark = !session.solid()->part->faces()[i].mark.empty();
        EXPECT_EQ(meshes->host_faces[i] < 0, of_mark) << "face " << i;
        own += of_mark ? 1 : 0;
    }
    EXPECT_GT(own, 10U) << "walls and floors of four letters";
    EXPECT_LT(session.solid()->volume_change_mm3, 0) << "an engraved mark takes material away";
    ASSERT_TRUE(session.edit("Cap height", height(id, 6)));
    EXPECT_EQ(session.solid(), nullptr) << "out of date at once";
    EXPECT_TRUE(test::wait_until([&] { return session.solid() != nullptr; }));
}

TEST_F(SessionOnDemo, AfterADragTheSolidIsBuiltAlsoWhenTheHandRestedBeforeLettingGo) {
    ASSERT_TRUE(test::wait_until([&] { return session.solid() != nullptr; }));
    session.begin_gesture("Size");
    ASSERT_TRUE(session.gesture(height(id, 6)));
    QTest::qWait(400); // longer than the pause before building
    EXPECT_EQ(session.solid(), nullptr) << "not while the hand holds it";
    session.end_gesture();
    EXPECT_TRUE(test::wait_until([&] { return session.solid() != nullptr; }, 20'000));
    session.begin_gesture("Size");
    ASSERT_TRUE(session.gesture(height(id, 7)));
    QTest::qWait(400);
    session.abandon_gesture();
    EXPECT_TRUE(test::wait_until([&] { return session.solid() != nullptr; }, 20'000));
}

TEST_F(SessionOnDemo, AFindingIsSelectedWithItsMarkAndFoundAgainAfterAnEdit) {
    ASSERT_TRUE(session.edit("Cap height", height(id, 1.5)));
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    const auto& findings = session.evaluation()->findings;
    const auto stroke = std::ranges::find(findings, "stroke_width", &rules::Finding::rule);
    ASSERT_NE(stroke, findings.end()) << "1.5 mm capitals hold strokes far below any nozzle";
    session.select_mark({});
    session.select_finding(static_cast<std::size_t>(stroke - findings.begin()));
    EXPECT_EQ(session.selected_mark().toStdString(), id);
    ASSERT_TRUE(session.edit("Cap height", height(id, 1.4)));
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    ASSERT_TRUE(session.selected_finding());
    EXPECT_EQ(session.evaluation()->findings[*session.selected_finding()].rule, "stroke_width");
    session.select_finding(9999);
    EXPECT_FALSE(session.selected_finding());
}

TEST_F(SessionOnDemo, TheGhostShowsWhatAFixWouldDoAndLeavesTheJobAlone) {
    const job::Job before = session.job();
    session.show_ghost(height(id, 9));
    ASSERT_TRUE(test::wait_until([&] { return session.ghost() != nullptr; }));
    EXPECT_DOUBLE_EQ(height_of(session.ghost()->job), 9);
    EXPECT_EQ(session.job(), before);
    session.hide_ghost();
    EXPECT_EQ(session.ghost(), nullptr);
    session.show_ghost(height(id, 8));
    session.hide_ghost(); // before it came
    QTest::qWait(300);
    EXPECT_EQ(session.ghost(), nullptr);
}

TEST(Session, WithoutAPartAnEditIsRefusedWithAHint) {
    Session session(test::session_parts());
    const Status refused = session.edit("Turn", [](const job::Job& job) -> Result<job::Job> { return job; });
    ASSERT_FALSE(refused);
    EXPECT_FALSE(refused.error().hint.empty());
}

TEST(Session, MayBeDestroyedWhileWorkIsRunning) {
    for (int i = 0; i < 3; ++i) {
        Session session(test::session_parts());
        session.open(test::demo_part());
        QTest::qWait(i * 20);
    }
}

} // namespace
} // namespace touchmark
