// SPDX-License-Identifier: MIT
#include "app/session/profile_shelf.h"

#include "core/base/atomic_file.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QTemporaryDir>
#include <fstream>
#include <gtest/gtest.h>

namespace touchmark::session {
namespace {

class ShelfOnDemo : public testing::Test {
protected:
    [[nodiscard]] std::filesystem::path own() const { return folder.filePath("processes").toStdString(); }
    [[nodiscard]] std::unique_ptr<ProfileShelf> shelf() const {
        return std::make_unique<ProfileShelf>(process::load_built_in(TOUCHMARK_RESOURCES).value(), own());
    }
    static process::Derivation on(const std::string& base, double stroke) {
        return {.title = "Shop",
                .based_on = base,
                .material = {},
                .figures = {{"limits.stroke_width.engrave.side_wall.hard", {stroke, "measured", false}},
                            {"limits.stroke_width.engrave.side_wall.comfortable", {stroke + 0.1, "measured", false}}},
                .wedge = {},
                .wedge_source = {}};
    }
    QTemporaryDir folder;
};

TEST_F(ShelfOnDemo, KeepsChangesRenamesAndDeletesOnesOwn) {
    auto one = shelf();
    int told = 0;
    QObject::connect(one.get(), &ProfileShelf::changed, [&] { ++told; });
    const auto id = one->add(on("fff-0.4", 0.6));
    ASSERT_TRUE(id) << id.error().message;
    EXPECT_TRUE(one->editable(*id));
    EXPECT_FALSE(one->editable("fff-0.4"));
    EXPECT_EQ(one->processes()->back().id, *id);
    const auto stroke = [&](const ProfileShelf& in) {
        return in.find(*id)->process.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value;
    };
    EXPECT_EQ(stroke(*one), 0.6);
    ASSERT_TRUE(one->change(*id, on("fff-0.4", 0.7)));
    ASSERT_TRUE(one->rename(*id, "Hall 2"));
    EXPECT_EQ(stroke(*one), 0.7);
    EXPECT_EQ(one->find(*id)->process.title, "Hall 2");
    EXPECT_EQ(stroke(*shelf()), 0.7) << "another sitting";
    EXPECT_EQ(one->free_title("Hall 2"), "Hall 2 (2)");
    EXPECT_EQ(one->free_title("Hall 3"), "Hall 3");
    ASSERT_TRUE(one->remove(*id));
    EXPECT_EQ(one->find(*id), nullptr);
    EXPECT_EQ(told, 4);
    EXPECT_EQ(shelf()->find(*id), nullptr);
}

TEST_F(ShelfOnDemo, WritesNothingThatCouldNotBeReadAgain) {
    auto one = shelf();
    EXPECT_EQ(one->add(on("fff-9", 0.6)).error().code, "process.no_base");
    process::Derivation wrong = on("fff-0.4", 0.6);
    wrong.figures[1].figure.value = 0.1; // comfortable below hard
    EXPECT_EQ(one->add(wrong).error().code, "process.malformed");
    EXPECT_FALSE(std::filesystem::exists(own()));
    const std::string id = one->add(on("fff-0.4", 0.6)).value();
    EXPECT_FALSE(one->change(id, wrong));
    EXPECT_EQ(one->find(id)->process.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 0.6);
    EXPECT_FALSE(ProfileShelf(process::load_built_in(TOUCHMARK_RESOURCES).value(), {}).add(on("fff-0.4", 1)));
}

TEST_F(ShelfOnDemo, KeepsWhatAnotherOneStandsOn) {
    auto one = shelf();
    const std::string first = one->add(on("fff-0.4", 0.6)).value(), second = one->add(on(first, 0.7)).value();
    EXPECT_NE(first, second);
    EXPECT_EQ(one->remove(first).error().code, "process.in_use");
    EXPECT_TRUE(one->remove(second));
    EXPECT_TRUE(one->remove(first));
}

TEST_F(ShelfOnDemo, MarksAreJudgedAnewWhenTheirProfileIsAnotherOne) {
    auto one = shelf();
    Session::Parts parts = test::session_parts();
    parts.processes = one->processes();
    Session session(parts);
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    const job::Mark mark = test::mark_on_side_wall(session, "A-17");
    ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
    const std::string id = one->add(on("fff-0.4", 0.3)).value();
    session.set_processes(one->processes());
    ASSERT_TRUE(session.edit("Process", [id](const job::Job& job) { return job::set_process(job, id); }));
    const auto blocked = [&] {
        EXPECT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
        return std::ranges::any_of(session.evaluation()->findings, [](const rules::Finding& finding) {
            return finding.rule == "stroke_width" && finding.severity == rules::Severity::blocker;
        });
    };
    EXPECT_FALSE(blocked());
    ASSERT_TRUE(one->change(id, on("fff-0.4", 5)));
    session.set_processes(one->processes());
    EXPECT_FALSE(session.evaluation_is_current());
    EXPECT_TRUE(blocked());
    EXPECT_EQ(session.process().limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 5);
    // What does not concern the job leaves its evaluation alone.
    ASSERT_TRUE(one->add(on("fff-0.8", 2)));
    session.set_processes(one->processes());
    EXPECT_TRUE(session.evaluation_is_current());
}

TEST_F(ShelfOnDemo, AJobWhoseProfileIsNotHereSaysSoAndGoesOnWithTheStandardOne) {
    std::filesystem::create_directories(own());
    std::ofstream(own() / "own-broken.json") << "{";
    auto one = shelf();
    Session::Parts parts = test::session_parts();
    Session session(parts);
    session.set_processes(one->processes(), one->profiles().left_out);
    QString said;
    QObject::connect(&session, &Session::noticed,
                     [&](const QString& message, const QString& hint) { said = message + u' ' + hint; });
    const std::string demo =
        read_text(std::filesystem::path(TOUCHMARK_RESOURCES) / "demo" / "sensor-bracket.job.json").value();
    for (const auto& [id, words] :
         {std::pair("own-gone", "not installed here (own-gone)"),
          std::pair("own-broken", "own-broken, whose file cannot be used: Not well-formed")}) {
        std::string text = demo;
        text.replace(text.find("\"fff-0.4\""), 9, "\"" + std::string(id) + "\"");
        const std::string part = "sensor-bracket.step";
        text.replace(text.find("\"" + part), part.size() + 1, "\"" + test::demo_part().string());
        const std::filesystem::path file = folder.filePath("demo.job.json").toStdString();
        std::ofstream(file) << text;
        ASSERT_TRUE(test::open_and_wait(session, file));
        EXPECT_EQ(session.job().process, "fff-0.4");
        EXPECT_TRUE(session.modified());
        EXPECT_TRUE(said.contains(words)) << said.toStdString();
    }
}

} // namespace
} // namespace touchmark::session
