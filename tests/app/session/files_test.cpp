// SPDX-License-Identifier: MIT
#include "app/session/session.h"

#include "core/job/job_file.h"
#include "core/job/parameter.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <QSignalSpy>
#include <QTemporaryDir>
#include <fstream>
#include <gtest/gtest.h>

namespace touchmark {
namespace {

using session::Session;

class SessionFiles : public testing::Test {
protected:
    [[nodiscard]] std::filesystem::path file(const char* name) const {
        return std::filesystem::path(folder.path().toStdString()) / name;
    }
    void add_mark() {
        const job::Mark mark = test::mark_on_side_wall(session, "A-17");
        ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
    }
    QTemporaryDir folder;
    Session session{test::session_parts()};
};

TEST_F(SessionFiles, AJobReopensAsItWasSaved) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    EXPECT_FALSE(session.modified()) << "a part just opened has nothing to save";
    add_mark();
    ASSERT_TRUE(session.save_job(file("a.job.json")));
    EXPECT_FALSE(session.modified());
    const job::Job saved = session.job();
    Session other(test::session_parts());
    ASSERT_TRUE(test::open_and_wait(other, file("a.job.json")));
    EXPECT_EQ(other.job(), saved);
    EXPECT_EQ(other.job_file(), file("a.job.json"));
    EXPECT_FALSE(other.modified());
    EXPECT_EQ(other.selected_mark().toStdString(), saved.marks.front().id);
}

TEST_F(SessionFiles, WhetherAFileIsAJobIsJudgedByWhatIsInIt) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    add_mark();
    ASSERT_TRUE(session.save_job(file("looks-like-a-part.step")));
    Session other(test::session_parts());
    ASSERT_TRUE(test::open_and_wait(other, file("looks-like-a-part.step")));
    EXPECT_EQ(other.job().marks.size(), 1U);
}

TEST_F(SessionFiles, AFileThatCannotBeReadLeavesWhatIsOpen) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    add_mark();
    const job::Job before = session.job();
    std::ofstream(file("bad.step")) << "not a part at all";
    QSignalSpy failed(&session, &Session::failed);
    EXPECT_FALSE(test::open_and_wait(session, file("bad.step")));
    ASSERT_EQ(failed.size(), 1);
    const auto error = failed.front().front().value<Error>();
    EXPECT_EQ(error.code, "part.not_step");
    EXPECT_FALSE(error.hint.empty());
    EXPECT_EQ(session.job(), before);
}

TEST_F(SessionFiles, ACancelledReadingChangesNothingAndSaysNothing) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    QSignalSpy opened(&session, &Session::opened), failed(&session, &Session::failed);
    session.open(test::open_part("frame.step"));
    session.cancel_activity();
    QTest::qWait(500);
    EXPECT_TRUE(opened.isEmpty());
    EXPECT_TRUE(failed.isEmpty());
    EXPECT_EQ(session.job().part.file, test::demo_part());
}

TEST_F(SessionFiles, TheNewestOfTwoFilesOpenedAtOnceIsTheOneThatOpens) {
    session.open(test::open_part("frame.step"));
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    QTest::qWait(300);
    EXPECT_EQ(session.job().part.file, test::demo_part());
}

TEST_F(SessionFiles, LongWorkIsAnnouncedAndShortWorkIsNot) {
    bool announced = false;
    QObject::connect(&session, &Session::changed, &session,
                     [&] { announced = announced || session.activity().has_value(); });
    ASSERT_TRUE(test::open_and_wait(session, test::open_part("cube-mm.step")));
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    EXPECT_FALSE(announced) << "a cube reads in well under half a second";
}

TEST_F(SessionFiles, TheMarkedPartIsSavedAndReadsBackWithItsVolume) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    add_mark();
    QSignalSpy saved(&session, &Session::saved), failed(&session, &Session::failed);
    session.save_step(file("marked.step"));
    ASSERT_TRUE(test::wait_until([&] { return !saved.isEmpty() || !failed.isEmpty(); }));
    ASSERT_TRUE(failed.isEmpty()) << failed.front().front().value<Error>().message;
    ASSERT_TRUE(test::wait_until([&] { return session.solid() != nullptr; }));
    const part::PartPtr back = test::read_part(file("marked.step"));
    EXPECT_NEAR(back->volume_mm3(), session.solid()->volume_before_mm3 + session.solid()->volume_change_mm3,
                1e-6 * back->volume_mm3());
    EXPECT_TRUE(session.modified()) << "saving the part is not saving the job";
}

TEST_F(SessionFiles, AFolderThatCannotBeWrittenToIsAnErrorWithAHint) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    add_mark();
    const Status saved = session.save_job(file("no-such-folder") / "a.job.json");
    ASSERT_FALSE(saved);
    EXPECT_FALSE(saved.error().message.empty());
    EXPECT_TRUE(session.modified());
}

TEST_F(SessionFiles, APartThatChangedSinceIsToldAndItsMarksFindTheirFaces) {
    std::filesystem::copy_file(test::demo_part(), file("part.step"));
    ASSERT_TRUE(test::open_and_wait(session, file("part.step")));
    add_mark();
    ASSERT_TRUE(session.save_job(file("a.job.json")));
    std::ofstream(file("part.step"), std::ios::app) << "/* another revision */\n";
    Session other(test::session_parts());
    QSignalSpy noticed(&other, &Session::noticed);
    ASSERT_TRUE(test::open_and_wait(other, file("a.job.json")));
    ASSERT_EQ(noticed.size(), 1);
    EXPECT_TRUE(noticed.front().front().toString().contains("changed"));
    EXPECT_EQ(other.job().marks.front().anchor.face, session.job().marks.front().anchor.face);
    EXPECT_TRUE(other.modified()) << "the job now names another revision of the part";
}

TEST_F(SessionFiles, AMarkWhoseFaceIsGoneIsTold) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    add_mark();
    job::Job moved = session.job();
    moved.part.file = test::open_part("cube-mm.step");
    ASSERT_TRUE(job::save_job(moved, file("moved.job.json")));
    Session other(test::session_parts());
    QSignalSpy noticed(&other, &Session::noticed);
    ASSERT_TRUE(test::open_and_wait(other, file("moved.job.json")));
    ASSERT_EQ(noticed.size(), 1);
    EXPECT_TRUE(noticed.front().front().toString().contains("1 mark"))
        << noticed.front().front().toString().toStdString();
}

} // namespace
} // namespace touchmark
