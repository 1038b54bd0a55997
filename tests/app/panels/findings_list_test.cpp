// SPDX-License-Identifier: MIT
#include "app/panels/findings_list.h"

#include "app/panels/finding_card.h"
#include "core/job/parameter.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QPushButton>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

rules::Finding finding(const char* mark, rules::Severity severity) {
    rules::Finding made;
    made.mark = mark;
    made.severity = severity;
    return made;
}

TEST(FindingsList, GroupsByMarkTheWorstFirst) {
    using enum rules::Severity;
    const auto groups = FindingsList::grouped({finding("m1", advice), finding("m1", warning), finding("m2", advice),
                                               finding("m2", blocker), finding("", warning)});
    ASSERT_EQ(groups.size(), 3U);
    EXPECT_EQ(groups[0].mark, "m2");
    EXPECT_EQ(groups[0].findings, (std::vector<std::size_t>{3, 2}));
    EXPECT_EQ(groups[1].mark, "m1");
    EXPECT_EQ(groups[1].findings, (std::vector<std::size_t>{1, 0}));
    EXPECT_EQ(groups[2].mark, "");
}

class FindingsListOnDemo : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
        job::Mark mark = test::mark_on_side_wall(session, "A-17");
        std::get<content::Text>(mark.content).cap_height = Mm(1.5);
        ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
        ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
        list.resize(320, 700);
        list.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&list));
    }
    [[nodiscard]] std::vector<FindingCard*> cards() const {
        std::vector<FindingCard*> shown;
        for (FindingCard* card : list.findChildren<FindingCard*>())
            if (!card->isHidden()) shown.push_back(card);
        return shown;
    }
    session::Session session{test::session_parts()};
    FindingsList list{session};
};

TEST_F(FindingsListOnDemo, ShowsEachFindingAndNoSidewaysScrolling) {
    EXPECT_EQ(cards().size(), session.evaluation()->findings.size());
    for (FindingCard* card : cards()) {
        EXPECT_LE(card->width(), list.width()) << card->accessibleName().toStdString();
        EXPECT_FALSE(card->accessibleName().isEmpty());
    }
}

TEST_F(FindingsListOnDemo, HoveringAFixShowsAGhostAndPressingItIsOneStep) {
    FindingCard* with_fix = nullptr;
    for (FindingCard* card : cards())
        if (!with_fix && !card->fixes().empty() && !card->fixes().front()->isHidden()) with_fix = card;
    ASSERT_NE(with_fix, nullptr);
    QPushButton* fix = with_fix->fixes().front();
    QEnterEvent enter(QPointF(5, 5), QPointF(5, 5), QPointF(5, 5));
    QCoreApplication::sendEvent(fix, &enter);
    ASSERT_TRUE(test::wait_until([&] { return session.ghost() != nullptr; }));
    EXPECT_NE(session.ghost()->job, session.job());
    const job::Job promised = session.ghost()->job;
    const int steps = session.history().count();
    QTest::mouseClick(fix, Qt::LeftButton);
    EXPECT_EQ(session.job(), promised) << "what the ghost showed is what the button does";
    EXPECT_EQ(session.history().count(), steps + 1);
    EXPECT_EQ(session.ghost(), nullptr);
}

TEST_F(FindingsListOnDemo, ClickingAFindingSelectsItAndUnfoldsWhyItMatters) {
    session.select_mark({});
    QTest::mouseClick(cards().front(), Qt::LeftButton, {}, QPoint(20, 20));
    ASSERT_TRUE(session.selected_finding());
    EXPECT_FALSE(session.selected_mark().isEmpty());
    EXPECT_TRUE(cards().front()->selected());
}

TEST_F(FindingsListOnDemo, WithNothingFoundItTellsWhatWasLookedAt) {
    const std::string id = session.job().marks.front().id;
    ASSERT_TRUE(session.edit("Delete", [id](const job::Job& job) { return job::remove_mark(job, id); }));
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    EXPECT_TRUE(cards().empty());
    bool told = false;
    for (const QLabel* label : list.findChildren<QLabel*>())
        told = told || (label->isVisible() && label->text().contains("Once a mark"));
    EXPECT_TRUE(told);
    job::Mark good = test::mark_on_side_wall(session, "H");
    std::get<content::Text>(good.content).cap_height = Mm(8);
    ASSERT_TRUE(session.edit("New mark", [good](const job::Job& job) { return job::add_mark(job, good); }));
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
    if (!session.evaluation()->findings.empty()) {
        FAIL() << "an 8 mm bold H on a side wall: " << session.evaluation()->findings.front().message;
    }
    told = false;
    for (const QLabel* label : list.findChildren<QLabel*>())
        told = told || (label->isVisible() && label->text().contains("stroke width"));
    EXPECT_TRUE(told);
}

} // namespace
} // namespace touchmark::panels
