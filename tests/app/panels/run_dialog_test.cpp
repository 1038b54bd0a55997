// SPDX-License-Identifier: MIT
#include "app/panels/run_dialog.h"

#include "app/panels/quantity_field.h"
#include "app/panels/run_cards.h"
#include "core/base/atomic_file.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QPushButton>
#include <QShortcut>
#include <QTemporaryDir>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

const std::filesystem::path planning = std::filesystem::path(TOUCHMARK_RESOURCES) / "rates" / "planning.json";

class RunDialogOnDemo : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
        const job::Mark mark = test::mark_on_side_wall(session, "A-17");
        ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
        dialog = std::make_unique<RunDialog>(session, planning, RunFigures{.units = 100'000}, nullptr);
        dialog->show();
        ASSERT_TRUE(test::wait_until([&] { return dialog->reckoner().current(); }));
    }
    template <class T> [[nodiscard]] std::vector<T*> shown() const {
        std::vector<T*> found;
        for (T* widget : dialog->findChildren<T*>())
            if (widget->isVisible()) found.push_back(widget);
        return found;
    }
    [[nodiscard]] QuantityField* field(const QString& name) const {
        for (QuantityField* one : dialog->findChildren<QuantityField*>())
            if (one->accessibleName() == name) return one;
        return nullptr;
    }
    void type(const QString& name, const QString& value) const {
        QuantityField* into = field(name);
        ASSERT_NE(into, nullptr) << name.toStdString();
        into->setFocus();
        into->selectAll();
        QTest::keyClicks(into, value);
        QTest::keyClick(into, Qt::Key_Return);
    }
    [[nodiscard]] QString words() const {
        QString all;
        for (const QLabel* label : shown<QLabel>())
            all += label->text() + u'\n';
        return all;
    }
    void compare() const {
        dialog->reckoner().compare(session.job().marks[0].id, dialog->figures_card().rates(),
                                   dialog->figures_card().units());
        ASSERT_TRUE(test::wait_until([&] { return !dialog->reckoner().comparing(); }));
    }
    session::Session session{test::session_parts()};
    std::unique_ptr<RunDialog> dialog;
};

TEST_F(RunDialogOnDemo, SaysWhatTheMarkCostsAndThatTheFiguresArePlanned) {
    ASSERT_EQ(shown<RunMarkCard>().size(), 1U);
    EXPECT_TRUE(words().contains("in 100,000 units"));
    EXPECT_TRUE(words().contains("Planning figures: nobody has counted them"));
    EXPECT_TRUE(words().contains("which nobody has counted"));
    EXPECT_FALSE(words().contains("EUR")); // nobody has said what a unit costs
}

TEST_F(RunDialogOnDemo, FollowsTheFiguresAsTheyAreTyped) {
    type("Units of the run", "2000");
    EXPECT_TRUE(words().contains("in 2,000 units"));
    type("Cost of a rejected unit", "1.9");
    EXPECT_TRUE(words().contains("EUR"));
    const double before = dialog->figures_card().rates()[run::Event::outline].chance.value;
    type("Outline: one unit spoilt in so many", "5000");
    EXPECT_NEAR(dialog->figures_card().rates()[run::Event::outline].chance.value, 1.0 / 5000, 1e-12);
    EXPECT_NE(before, 1.0 / 5000);
    EXPECT_TRUE(words().contains("typed in"));
    EXPECT_EQ(dialog->figures().units, 2000);
    EXPECT_EQ(dialog->figures().unit_cost, 1.9);
}

TEST_F(RunDialogOnDemo, FitsItsRatesToCountsAndSaysWhatTheyLeaveOpen) {
    const QTemporaryDir folder;
    const auto counts = std::filesystem::path(folder.path().toStdString()) / "counts.csv";
    ASSERT_TRUE(write_text_atomically(counts, "event,printed,rejected\noutline,50000,4\n"));
    dialog->figures_card().fit(QString::fromStdString(counts.string()));
    EXPECT_TRUE(words().contains("fitted from counts: 4 of 50000"));
    EXPECT_TRUE(words().contains("In part planning figures"));
    EXPECT_TRUE(words().contains("By counts of the shop"));
    ASSERT_TRUE(write_text_atomically(counts, "event,printed,rejected\nnothing,5,0\n"));
    dialog->figures_card().fit(QString::fromStdString(counts.string()));
    EXPECT_TRUE(words().contains("nothing")); // names what is wrong
    EXPECT_TRUE(words().contains("fitted from counts: 4 of 50000"));
}

TEST_F(RunDialogOnDemo, UsingAnAlternativeIsOneUndoStep) {
    compare();
    ASSERT_GE(shown<AlternativeCard>().size(), 3U);
    const job::Job before = session.job();
    const int steps = session.history().count();
    AlternativeCard* other = nullptr;
    for (AlternativeCard* card : shown<AlternativeCard>())
        if (card->use().isVisible()) other = card;
    ASSERT_NE(other, nullptr);
    QTest::mouseClick(&other->use(), Qt::LeftButton);
    EXPECT_NE(session.job(), before);
    EXPECT_EQ(session.history().count(), steps + 1);
    for (QShortcut* shortcut : dialog->findChildren<QShortcut*>()) // undo reaches the job from here as in the window
        if (shortcut->key() == QKeySequence(QKeySequence::Undo)) QMetaObject::invokeMethod(shortcut, "activated");
    EXPECT_EQ(session.job(), before);
}

TEST_F(RunDialogOnDemo, ComparesAnewWhenTheJobHasChanged) {
    compare();
    const auto marked = [&] {
        return std::ranges::find_if(dialog->reckoner().alternatives(), &pipeline::Alternative::as_it_is)->mode;
    };
    EXPECT_EQ(marked(), session.job().marks[0].mode);
    const std::string mark = session.job().marks[0].id;
    ASSERT_TRUE(session.edit("Raise", [mark](const job::Job& job) { return job::set_mode(job, mark, Mode::raise); }));
    ASSERT_TRUE(test::wait_until([&] { return dialog->reckoner().current() && !dialog->reckoner().comparing(); }));
    EXPECT_EQ(marked(), Mode::raise);
    ASSERT_TRUE(session.edit("Delete", [mark](const job::Job& job) { return job::remove_mark(job, mark); }));
    ASSERT_TRUE(test::wait_until([&] { return dialog->reckoner().current(); }));
    EXPECT_TRUE(shown<AlternativeCard>().empty());
    EXPECT_TRUE(words().contains("The job has no marks"));
}

TEST_F(RunDialogOnDemo, DoesNothingInTheBackgroundOnceItIsClosed) {
    dialog->hide();
    const std::string mark = session.job().marks[0].id;
    ASSERT_TRUE(session.edit("Raise", [mark](const job::Job& job) { return job::set_mode(job, mark, Mode::raise); }));
    ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_current(); }));
    QTest::qWait(500);
    EXPECT_FALSE(dialog->reckoner().current());
    dialog->show();
    EXPECT_TRUE(test::wait_until([&] { return dialog->reckoner().current(); }));
}

TEST_F(RunDialogOnDemo, NothingIsWiderThanItsColumn) {
    compare();
    dialog->resize(dialog->minimumSize());
    QTest::qWait(50);
    for (const CardColumn* column : dialog->findChildren<CardColumn*>())
        EXPECT_LE(column->widget()->width(), column->viewport()->width());
    for (const AlternativeCard* card : shown<AlternativeCard>())
        EXPECT_FALSE(card->accessibleName().isEmpty());
}

} // namespace
} // namespace touchmark::panels
