// SPDX-License-Identifier: MIT
#include "app/panels/profile_dialog.h"

#include "app/panels/figure_card.h"
#include "app/panels/figure_ledger.h"
#include "app/panels/profile_groups.h"
#include "app/panels/quantity_field.h"
#include "core/process/figures.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QComboBox>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTemporaryDir>
#include <cmath>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

class ProfileDialogOnDemo : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
        dialog = std::make_unique<ProfileDialog>(session, shelf, nullptr);
        QObject::connect(dialog.get(), &ProfileDialog::use_asked, [this](const std::string& id) { used = id; });
        QObject::connect(&shelf, &session::ProfileShelf::changed,
                         [this] { session.set_processes(shelf.processes(), shelf.profiles().left_out); });
        dialog->show();
    }
    template <class T> [[nodiscard]] T* named(const QString& name) const {
        for (T* one : dialog->findChildren<T*>())
            if (one->accessibleName() == name && one->isVisible()) return one;
        return nullptr;
    }
    [[nodiscard]] QPushButton* button(const QString& title) const {
        for (QPushButton* one : dialog->findChildren<QPushButton*>())
            if (one->text() == title && one->isVisible()) return one;
        return nullptr;
    }
    [[nodiscard]] FigureLedger& ledger() const { return *dialog->findChild<FigureLedger*>(); }
    /// Titles of the rows with a figure, or of the headings.
    [[nodiscard]] QStringList rows(bool headings = false) const {
        QStringList out;
        for (int i = 0; i < ledger().count(); ++i)
            if (const QListWidgetItem* item = ledger().item(i); (item->flags() == Qt::NoItemFlags) == headings)
                out += item->text();
        return out;
    }
    void type_value(const QString& name, const QString& value) const {
        auto* into = named<QuantityField>(name);
        ASSERT_NE(into, nullptr) << name.toStdString();
        into->setFocus();
        into->selectAll();
        QTest::keyClicks(into, value);
        QTest::keyClick(into, Qt::Key_Return);
    }
    void type_source(const QString& words) const { named<QPlainTextEdit>("Source")->setPlainText(words); }
    [[nodiscard]] QString words() const {
        QString all;
        for (const QLabel* label : dialog->findChildren<QLabel*>())
            if (label->isVisible()) all += label->text() + u'\n';
        return all;
    }

    QTemporaryDir folder;
    session::ProfileShelf shelf{process::load_built_in(TOUCHMARK_RESOURCES).value(),
                                folder.filePath("processes").toStdString()};
    session::Session session{test::session_parts()};
    std::string used;
    std::unique_ptr<ProfileDialog> dialog;
};

TEST_F(ProfileDialogOnDemo, ShowsEveryFigureOfTheJobsProfileWithItsSource) {
    EXPECT_EQ(dialog->shown(), "fff-0.4");
    const process::Process& process = shelf.find("fff-0.4")->process;
    EXPECT_EQ(static_cast<std::size_t>(rows().size()), figure_keys(process).size() + 1); // and the step wedge
    for (const char* heading : {"Machine", "Simulated print", "Zones", "Suitability", "Limits", "Width of a stroke"})
        EXPECT_TRUE(rows(true).contains(heading)) << heading;
    for (const std::string& key : figure_keys(process)) {
        ledger().choose(key);
        ASSERT_EQ(ledger().chosen(), key);
        EXPECT_DOUBLE_EQ(named<QuantityField>("Value")->value(), process::figure_of(process, key)->value) << key;
        EXPECT_EQ(named<QPlainTextEdit>("Source")->toPlainText(), text(process::figure_of(process, key)->source));
        EXPECT_EQ(named<QComboBox>("Kind of source")->currentText() == "Assumed",
                  process::figure_of(process, key)->assumed);
        EXPECT_FALSE(button("Keep")->isEnabled()) << "nothing was changed";
    }
}

TEST_F(ProfileDialogOnDemo, NarrowsToWhatIsTypedAndToWhatIsAssumedOrDiffers) {
    named<QLineEdit>("Find a figure")->setText("stroke side");
    EXPECT_TRUE(rows().contains("Engrave, side wall: will not print below"));
    EXPECT_FALSE(rows().contains("Nozzle"));
    named<QLineEdit>("Find a figure")->setText("no such thing");
    EXPECT_TRUE(rows().isEmpty());
    EXPECT_FALSE(dialog->findChild<FigureCard*>()->isVisible());
    named<QLineEdit>("Find a figure")->clear();
    named<QComboBox>("Which figures")->setCurrentIndex(1);
    EXPECT_TRUE(rows().contains("Line width"));
    EXPECT_FALSE(rows().contains("Nozzle")); // by definition
    named<QComboBox>("Which figures")->setCurrentIndex(2);
    EXPECT_TRUE(rows().isEmpty()); // stands by itself
    dialog->show_profile("fff-0.4-petg");
    EXPECT_TRUE(rows().contains("Sag of a bridge"));
    EXPECT_FALSE(rows().contains("Smoothing"));
    EXPECT_TRUE(words().contains("In fff-0.4: "));
}

TEST_F(ProfileDialogOnDemo, AChangeOfOneThatComesAlongIsKeptInOneOfOnesOwn) {
    dialog->show_profile("fff-0.4-petg");
    ledger().choose("limits.stroke_width.engrave.side_wall.hard");
    type_value("Value", "0.45");
    // The old source speaks of the old value: a new one is asked for.
    EXPECT_TRUE(named<QPlainTextEdit>("Source")->toPlainText().isEmpty());
    EXPECT_FALSE(button("Keep")->isEnabled());
    type_source("test strip of 12 March");
    ASSERT_TRUE(button("Keep")->isEnabled());
    button("Keep")->click();
    const std::string id = dialog->shown();
    EXPECT_EQ(id, "own-0.4-mm-nozzle-petg");
    const process::Profile* own = shelf.find(id);
    ASSERT_NE(own, nullptr);
    EXPECT_EQ(own->based_on, "fff-0.4-petg");
    EXPECT_EQ(own->process.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 0.45);
    EXPECT_EQ(own->process.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.source,
              "test strip of 12 March");
    EXPECT_EQ(shelf.find("fff-0.4-petg")->process.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value,
              0.5);
    EXPECT_EQ(ledger().chosen(), "limits.stroke_width.engrave.side_wall.hard") << "one goes on where one was";
    EXPECT_TRUE(words().contains("Kept in a profile of your own"));
    // The next change stays in it, and can be taken back.
    ledger().choose("printing.bead_spread");
    type_value("Value", "0.06");
    type_source("the same strip");
    button("Keep")->click();
    EXPECT_EQ(dialog->shown(), id);
    EXPECT_EQ(shelf.find(id)->differs->figures.size(), 2u);
    button("As in fff-0.4-petg")->click();
    EXPECT_EQ(shelf.find(id)->differs->figures.size(), 1u);
    EXPECT_EQ(shelf.find(id)->process.printing->bead_spread_mm.value, 0.1);
    EXPECT_EQ(session.processes()->back().id, id) << "it can be chosen at once";
    button("Use for this job")->click();
    EXPECT_EQ(used, id);
}

TEST_F(ProfileDialogOnDemo, SaysWhatCannotBeAndKeepsNothing) {
    ledger().choose("limits.stroke_width.engrave.side_wall.hard");
    type_value("Value", "2");
    type_source("a mistake");
    button("Keep")->click();
    EXPECT_TRUE(words().contains("\"comfortable\" is 0.8")) << words().toStdString();
    EXPECT_EQ(dialog->shown(), "fff-0.4");
    EXPECT_FALSE(std::filesystem::exists(folder.filePath("processes").toStdString()));
    ledger().choose("line_width");
    type_value("Value", "99"); // beyond what a line can be
    EXPECT_TRUE(words().contains("From 0.01 to 10 mm"));
}

TEST_F(ProfileDialogOnDemo, RenamesDeletesAndBringsBack) {
    button("New from this")->click();
    const std::string id = dialog->shown();
    EXPECT_EQ(id, "own-0.4-mm-nozzle");
    EXPECT_TRUE(shelf.find(id)->differs->figures.empty());
    auto* name = named<QLineEdit>("Name of the profile");
    EXPECT_FALSE(name->isReadOnly());
    name->setText("Hall 2");
    emit name->editingFinished();
    EXPECT_EQ(shelf.find(id)->process.title, "Hall 2");
    ASSERT_TRUE(session.edit("Process", [id](const job::Job& job) { return job::set_process(job, id); }));
    button("Delete")->click();
    EXPECT_EQ(shelf.find(id), nullptr);
    EXPECT_EQ(used, "fff-0.4") << "the job goes on with what it stood on";
    EXPECT_EQ(dialog->shown(), "fff-0.4");
    EXPECT_FALSE(button("Delete")->isEnabled());
    EXPECT_TRUE(named<QLineEdit>("Name of the profile")->isReadOnly());
    button("Bring it back")->click();
    ASSERT_NE(shelf.find(id), nullptr);
    EXPECT_EQ(shelf.find(id)->process.title, "Hall 2");
    EXPECT_EQ(dialog->shown(), id);
}

// Beer and Lambert: a share T of the light is a decadic logarithm of lg T.
TEST_F(ProfileDialogOnDemo, TakesAStepWedgeAsAShopReadsIt) {
    ledger().choose(wedge_key);
    const auto type = [&](const char* thickness, const char* percent, int step) {
        type_value(QString("Thickness of step %1").arg(step), thickness);
        type_value(QString("Light through step %1").arg(step), percent);
    };
    type("0.8", "10", 1);
    type_source("our PETG, May");
    EXPECT_FALSE(button("Keep")->isEnabled()) << "one step is no wedge";
    type("0.4", "40", 2);
    ASSERT_TRUE(button("Keep")->isEnabled());
    button("Keep")->click();
    const auto& printing = *shelf.find(dialog->shown())->process.printing;
    ASSERT_EQ(printing.wedge.size(), 2u);
    EXPECT_EQ(printing.wedge[0].thickness_mm, 0.4); // by thickness
    EXPECT_NEAR(printing.wedge[0].log_transmission, std::log10(0.4), 1e-12);
    EXPECT_NEAR(printing.wedge[1].log_transmission, -1, 1e-12);
    EXPECT_EQ(printing.wedge_source, "our PETG, May");
    button("As in fff-0.4")->click();
    EXPECT_TRUE(shelf.find(dialog->shown())->process.printing->wedge.empty());
}

TEST_F(ProfileDialogOnDemo, WhatIsNotExtrusionHasNoNozzleAndNoWedge) {
    dialog->show_profile("powder-pa12");
    EXPECT_FALSE(rows().contains("Nozzle"));
    EXPECT_FALSE(rows().contains("Step wedge"));
    EXPECT_FALSE(rows(true).contains("Simulated print"));
    EXPECT_TRUE(rows().contains("Layer height"));
}

TEST(ProfileGroups, OfferEachProfileOnceByNozzleThenTheOthers) {
    const process::Profiles profiles = process::load_built_in(TOUCHMARK_RESOURCES).value();
    const auto groups = grouped(profiles);
    ASSERT_EQ(groups.size(), 5u);
    EXPECT_EQ(groups[1].title, "0.4 mm nozzle");
    ASSERT_EQ(groups[1].profiles.size(), 6u);
    EXPECT_EQ(groups[1].profiles[0].title, "Any material");
    EXPECT_EQ(groups[1].profiles[3].title, "PETG");
    EXPECT_EQ(groups[1].profiles[3].profile->process.id, "fff-0.4-petg");
    EXPECT_EQ(groups[4].title, "Other processes");
    std::size_t count = 0;
    for (const ProfileGroup& group : groups)
        count += group.profiles.size();
    EXPECT_EQ(count, profiles.all.size());
}

} // namespace
} // namespace touchmark::panels
