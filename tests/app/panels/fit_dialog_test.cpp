// SPDX-License-Identifier: MIT
#include "app/panels/fit_dialog.h"

#include "app/panels/combo.h"
#include "app/panels/strip_chart.h"
#include "core/base/atomic_file.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QCheckBox>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <array>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

/// Of the strip for a 0.4 mm nozzle: cut and raised strokes of the top, two steps of the wedge, one text.
std::string sheet(std::string_view of_raised = "2") {
    std::string out = "item,planned_mm,printed,came_out,light_percent\n";
    constexpr std::array widths{"0.21", "0.29", "0.38", "0.46", "0.55", "0.63", "0.76", "0.92", "1.18"};
    constexpr std::array cut{0, 0, 1, 3, 6, 6, 6, 6, 6};
    for (std::size_t i = 0; i < widths.size(); ++i) {
        const std::string number = std::to_string(i + 1) + ',' + widths[i] + ",6,";
        out += 'E' + number + std::to_string(cut[i]) + ",\nF" + number +
               (i < 3    ? "0"
                : i == 3 ? std::string(of_raised)
                         : "6") +
               ",\n";
    }
    return out + "W1,,,,61.9\nW4,,,,23.7\nH5,,6,6,\n";
}

class FitDialogOnNothing : public testing::Test {
protected:
    void SetUp() override {
        shelf = std::make_unique<session::ProfileShelf>(process::load_built_in(TOUCHMARK_RESOURCES).value(),
                                                        folder.filePath("own").toStdString());
        session.set_processes(shelf->processes());
        dialog = std::make_unique<FitDialog>(session, *shelf, nullptr);
        dialog->show();
    }
    [[nodiscard]] QString written(std::string_view text) const {
        const QString file = folder.filePath("sheet.csv");
        EXPECT_TRUE(write_text_atomically(file.toStdString(), text));
        return file;
    }
    void fit(std::string_view text) const {
        dialog->open_sheet(written(text));
        ASSERT_TRUE(test::wait_until([&] { return !dialog->work().busy(); }));
    }
    [[nodiscard]] QString words() const {
        QString all;
        for (const QLabel* label : dialog->findChildren<QLabel*>())
            if (label->isVisible()) all += label->text() + u'\n';
        return all;
    }
    [[nodiscard]] QPushButton* button(const QString& said) const {
        for (QPushButton* one : dialog->findChildren<QPushButton*>())
            if (one->text() == said) return one;
        return nullptr;
    }
    QTemporaryDir folder;
    session::Session session{test::session_parts()};
    std::unique_ptr<session::ProfileShelf> shelf;
    std::unique_ptr<FitDialog> dialog;
};

TEST_F(FitDialogOnNothing, StartsFromTheProcessOfTheJobAndOffersOnlyProfilesThatArePrinted) {
    const Combo* processes = dialog->findChild<Combo*>();
    EXPECT_EQ(processes->currentData().toString(), "fff-0.4");
    for (const process::Profile& profile : shelf->profiles().all)
        EXPECT_EQ(processes->findData(text(profile.process.id)) >= 0, profile.process.printing.has_value());
    EXPECT_FALSE(button("Save as own profile")->isEnabled());
}

TEST_F(FitDialogOnNothing, SavesTheStripAndItsSheetBesideItAndSparesOneThatIsThere) {
    QSignalSpy told(&dialog->work(), &StripWork::told);
    ASSERT_TRUE(write_text_atomically(folder.filePath("strip.csv").toStdString(), "filled in"));
    dialog->save_strip(folder.filePath("strip.step"));
    EXPECT_TRUE(dialog->work().busy());
    ASSERT_TRUE(test::wait_until([&] { return !dialog->work().busy(); }));
    ASSERT_EQ(told.count(), 1);
    EXPECT_TRUE(words().contains("strip-2.csv")) << words().toStdString();
    EXPECT_TRUE(std::filesystem::exists(folder.filePath("strip.step").toStdString()));
    EXPECT_EQ(read_text(folder.filePath("strip.csv").toStdString()).value(), "filled in");
    EXPECT_TRUE(read_text(folder.filePath("strip-2.csv").toStdString()).value().contains("A4,stroke"));
}

TEST_F(FitDialogOnNothing, SaysWhatASheetMakesOfTheProfile) {
    fit(sheet());
    ASSERT_TRUE(dialog->work().found());
    ASSERT_TRUE(dialog->work().found()->outlook);
    const QString said = words();
    for (const char* expected : {"Bead spread", "0.100 → 0.0", "stays 0.150 mm", "Attenuation", "1 text or code"})
        EXPECT_TRUE(said.contains(expected)) << expected << " in\n" << said.toStdString();
    const auto* chart = dialog->findChild<StripChart*>();
    EXPECT_TRUE(chart->isVisible());
    EXPECT_TRUE(chart->accessibleName().contains("E, stroke cut into the top: 5 of 9 came out"))
        << chart->accessibleName().toStdString();
}

TEST_F(FitDialogOnNothing, KeepsItAsAProfileThatCanBeChosen) {
    ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    fit(sheet());
    std::string used;
    QObject::connect(dialog.get(), &FitDialog::use_asked, [&](const std::string& id) { used = id; });
    EXPECT_FALSE(button("Use it for this job")->isVisible());
    ASSERT_TRUE(button("Save as own profile")->isEnabled());
    dialog->findChild<QLineEdit*>()->setText("Hall 2, printer 7");
    dialog->findChild<QCheckBox*>()->setChecked(true);
    button("Save as own profile")->click();
    ASSERT_TRUE(button("Use it for this job")->isVisible()) << words().toStdString();
    button("Use it for this job")->click();
    session.set_processes(shelf->processes());
    ASSERT_TRUE(session.edit("Change process", [&](const job::Job& job) { return job::set_process(job, used); }));
    EXPECT_FALSE(button("Use it for this job")->isVisible());
    const process::Profile* own = shelf->find(used);
    ASSERT_NE(own, nullptr);
    EXPECT_EQ(own->process.title, "Hall 2, printer 7");
    EXPECT_EQ(own->based_on, "fff-0.4");
    EXPECT_LT(own->process.printing->bead_spread_mm.value, 0.1);
    EXPECT_FALSE(own->process.printing->bead_spread_mm.assumed);
    EXPECT_EQ(own->process.printing->wedge.size(), 2U);
    const process::Limit* limit = own->process.limit("stroke_width", Mode::engrave, Zone::top);
    EXPECT_TRUE(limit->hard.source.contains("test strip")) << limit->hard.source;
}

TEST_F(FitDialogOnNothing, NamesWhatIsWrongWithASheetAndKeepsWhatWasFitted) {
    fit(sheet());
    fit(sheet("7"));
    EXPECT_TRUE(words().contains("Line 9 of the sheet, F4")) << words().toStdString();
    EXPECT_TRUE(dialog->work().found());
}

TEST_F(FitDialogOnNothing, AnotherProfileForgetsWhatWasFitted) {
    fit(sheet());
    auto* processes = dialog->findChild<Combo*>();
    processes->setCurrentIndex(processes->findData("fff-0.6"));
    EXPECT_FALSE(dialog->work().found());
    EXPECT_FALSE(button("Save as own profile")->isEnabled());
    fit(sheet());
    EXPECT_TRUE(words().contains("planned with 0.21 mm")) << words().toStdString();
}

} // namespace
} // namespace touchmark::panels
