// SPDX-License-Identifier: MIT
#include "app/panels/marks_rail.h"

#include "app/panels/drawing_field.h"
#include "app/panels/family_box.h"
#include "app/panels/mark_card.h"
#include "app/panels/mark_values.h"
#include "app/panels/quantity_field.h"
#include "app/panels/variable_row.h"
#include "app/panels/variables_card.h"
#include "core/job/parameter.h"
#include "core/job/variables.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QLabel>
#include <QMimeData>
#include <QPlainTextEdit>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

class MarksRailOnDemo : public testing::Test {
protected:
    void SetUp() override {
        rail.resize(296, 700);
        rail.show();
        rail.activateWindow();
        ASSERT_TRUE(QTest::qWaitForWindowActive(&rail));
        ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
    }
    void place() {
        const std::size_t before = session.job().marks.size();
        rail.place_new_mark();
        ASSERT_TRUE(test::wait_until([&] {
            const auto* family = rail.findChild<FamilyBox*>();
            return session.job().marks.size() == before + 1 && family && family->isVisibleTo(&rail);
        })) << "the new mark's card unfolds";
    }
    template <class T> [[nodiscard]] T* named(const QString& name) const {
        for (T* widget : rail.findChildren<T*>())
            if (widget->accessibleName() == name && widget->isVisibleTo(&rail)) return widget;
        return nullptr;
    }
    [[nodiscard]] const content::Text& words() const {
        return std::get<content::Text>(session.job().marks.back().content);
    }
    session::Session session{test::session_parts()};
    MarksRail rail{session};
};

TEST_F(MarksRailOnDemo, APressOnNewMarkPlacesOneAndItsTextIsReadyToBeTyped) {
    auto* button = rail.findChild<NewMark*>();
    button->setFocus();
    QTest::keyClick(button, Qt::Key_Space);
    ASSERT_TRUE(test::wait_until([&] { return session.job().marks.size() == 1; }));
    auto* text = rail.findChild<QPlainTextEdit*>();
    ASSERT_NE(text, nullptr) << "the new mark's card is unfolded";
    EXPECT_EQ(text->textCursor().selectedText().toStdString(), words().text);
    QTest::keyClicks(text, "B-42");
    EXPECT_EQ(words().text, "B-42");
    EXPECT_EQ(session.history().count(), 2) << "placing and typing";
}

TEST_F(MarksRailOnDemo, EveryParameterHasItsRowWithANameAndHelp) {
    place();
    for (const job::Parameter& parameter : job::parameters()) {
        bool found = false;
        for (const QWidget* widget : rail.findChildren<QWidget*>())
            found = found ||
                    (widget->accessibleName() == text(parameter.title) && widget->toolTip() == text(parameter.help));
        EXPECT_TRUE(found) << parameter.key;
    }
}

TEST_F(MarksRailOnDemo, AFieldEditsTheJobAndShowsTheDefaultItDepartsFrom) {
    place();
    auto* depth = named<QuantityField>(text(job::parameter("depth")->title));
    ASSERT_NE(depth, nullptr);
    depth->setFocus();
    depth->selectAll();
    QTest::keyClicks(depth, "2*0.4");
    QTest::keyClick(depth, Qt::Key_Return);
    EXPECT_DOUBLE_EQ(session.job().marks.front().depth.value, 0.8);
    QPushButton* standard = nullptr;
    for (QPushButton* button : rail.findChildren<QPushButton*>())
        if (button->isVisibleTo(&rail) && button->text().contains("0.50 mm")) standard = button;
    ASSERT_NE(standard, nullptr) << "the default is shown";
    standard->click();
    EXPECT_DOUBLE_EQ(session.job().marks.front().depth.value, 0.5);
    EXPECT_FALSE(standard->isVisibleTo(&rail)) << "nothing departs any more";
}

TEST_F(MarksRailOnDemo, FieldsFollowUndo) {
    place();
    auto* height = named<QuantityField>(text(job::parameter("cap_height")->title));
    const double before = height->value();
    height->setFocus();
    QTest::keyClick(height, Qt::Key_Up);
    EXPECT_GT(height->value(), before);
    session.history().undo();
    EXPECT_DOUBLE_EQ(height->value(), before);
}

TEST_F(MarksRailOnDemo, TheFontIsFoundByAnyPartOfItsName) {
    place();
    auto* family = rail.findChild<FamilyBox*>();
    ASSERT_NE(family, nullptr);
    family->setFocus();
    family->setEditText("dejavu serif");
    QTest::keyClick(family, Qt::Key_Return);
    family->clearFocus();
    EXPECT_EQ(words().family, "DejaVu Serif") << "Debian package fonts-dejavu-core";
    family->setFocus();
    family->setEditText("no such family");
    QTest::keyClick(family, Qt::Key_Tab);
    EXPECT_NE(family->currentText(), "no such family") << "what does not exist is not kept";
}

TEST_F(MarksRailOnDemo, WrittenAsACodeItHasTheValuesOfACode) {
    place();
    const std::string said = words().text;
    auto* code = named<QPushButton>("Written as: Code");
    ASSERT_NE(code, nullptr);
    code->click();
    ASSERT_TRUE(std::holds_alternative<content::Code>(session.job().marks.back().content));
    EXPECT_EQ(content::said_by(session.job().marks.back().content), said);
    EXPECT_NE(named<QuantityField>(text(job::parameter("module")->title)), nullptr);
    EXPECT_EQ(named<QuantityField>(text(job::parameter("cap_height")->title)), nullptr);
    EXPECT_EQ(named<QuantityField>(text(job::parameter("bar_height")->title)), nullptr) << "a matrix has no bars";
    auto* size = named<QLabel>("Size of the code");
    ASSERT_NE(size, nullptr);
    EXPECT_TRUE(size->text().replace(QChar::Nbsp, u' ').contains("mm with its margin")) << size->text().toStdString();
    session.history().undo();
    EXPECT_EQ(words().text, said);
    EXPECT_NE(named<QuantityField>(text(job::parameter("cap_height")->title)), nullptr);
}

TEST_F(MarksRailOnDemo, ADrawingIsDroppedOntoItsField) {
    place();
    named<QPushButton>("Written as: Art")->click();
    ASSERT_TRUE(std::holds_alternative<content::Art>(session.job().marks.back().content));
    auto* field = rail.findChild<DrawingField*>();
    ASSERT_TRUE(field && field->isVisibleTo(&rail));
    QMimeData carried;
    carried.setText("<svg xmlns='http://www.w3.org/2000/svg'><rect width='40' height='20'/></svg>");
    EXPECT_TRUE(DrawingField::takes(carried));
    field->take(carried);
    const auto& art = std::get<content::Art>(session.job().marks.back().content);
    ASSERT_NE(art.drawing, nullptr);
    EXPECT_NEAR(art.size_mm, 40 * 25.4 / 96, 0.01) << "at its own size: CSS pixels, 96 an inch";
    carried.setText("<svg xmlns='http://www.w3.org/2000/svg'><text>A</text></svg>");
    field->take(carried);
    EXPECT_NEAR(std::get<content::Art>(session.job().marks.back().content).size_mm, 10.58, 0.01)
        << "one that cannot be used changes nothing";
    const auto complaints = rail.findChildren<QLabel*>();
    EXPECT_TRUE(std::ranges::any_of(complaints, [](const QLabel* label) {
        return label->isVisible() && label->text().contains("nothing with an area");
    })) << "beside the field";
    carried.setText("not a drawing");
    EXPECT_FALSE(DrawingField::takes(carried));
}

TEST_F(MarksRailOnDemo, ErrorsStandBesideTheFieldThatCausedThem) {
    place();
    const auto complaint = [&](const char* key, const char* words) {
        const auto editor = named<QWidget>(text(job::parameter(key)->title));
        if (!editor) return false;
        // The complaint of a row lies below its editor and above the next one.
        for (const QLabel* label : rail.findChildren<QLabel*>())
            if (label->isVisibleTo(&rail) && label->text().contains(words)) {
                const int gap =
                    label->mapTo(&rail, QPoint()).y() - editor->mapTo(&rail, QPoint(0, editor->height())).y();
                return gap >= 0 && gap < 60; // the link back to the default may stand between
            }
        return false;
    };
    const auto set = [&](const char* key, job::Value value) {
        ASSERT_TRUE(session.edit(
            "set", [&](const job::Job& job) { return job::set_parameter(job, job.marks.front().id, key, value); }));
    };
    set("features", std::string("no such"));
    EXPECT_TRUE(test::wait_until([&] { return complaint("features", "no OpenType feature"); }));
    set("features", std::string());
    set("fit_width", 1000.0);
    set("fit", std::string("spacing"));
    EXPECT_TRUE(test::wait_until([&] { return complaint("fit_width", "not 1000 mm"); }));
    set("fit_width", 0.0);
    set("kind", std::string("code"));
    set("symbology", std::string("qr"));
    set("text", std::string("4711"));
    auto* size = named<QLabel>("Size of the code");
    ASSERT_NE(size, nullptr);
    // ISO/IEC 18004: version 1 has 21 modules, and 4 beside them on either side; at the level of 15 % it holds 34
    // digits.
    EXPECT_EQ(size->text().replace(QChar::Nbsp, u' ').toStdString(),
              "Version 1-M · 21 × 21 modules · 23.2 × 23.2 mm with its margin · 4 of 34 digits");
    set("text", std::string(200, 'A'));
    set("symbol_size", 2.0);
    EXPECT_TRUE(complaint("symbol_size", "QR"));
    EXPECT_EQ(named<QLabel>("Size of the code"), nullptr) << "nothing is said of a symbol that is none";
}

TEST_F(MarksRailOnDemo, FontsAreRankedByWhatWasMeasuredOnThem) {
    place();
    // Two families, so that the survey is a matter of a moment.
    const std::vector<std::string> families{"DejaVu Sans", "DejaVu Serif"};
    FaceSurvey survey(session.fonts(), {});
    FamilyBox box({"DejaVu Serif", "DejaVu Sans"}, &survey);
    box.set_demand(
        {.cap_height_mm = 5, .weight = 400, .least_stroke_mm = 0.42, .clean_stroke_mm = 0.5, .clean_gap_mm = 0});
    EXPECT_TRUE(box.shortlist().empty()) << "nothing is known yet";
    survey.start(400);
    ASSERT_TRUE(
        QTest::qWaitFor([&] { return survey.measure("DejaVu Serif", 400).has_value() && !survey.running(); }, 120'000));
    EXPECT_EQ(box.shortlist(), families) << "the one with hairlines comes last";
    EXPECT_NE(box.findText("DejaVu Serif"), -1) << "the others stay to be chosen";
}

TEST_F(MarksRailOnDemo, AVariableFontShowsItsAxesAndAFixedOneNone) {
    place();
    EXPECT_EQ(named<QWidget>(text(job::parameter("axes")->title)), nullptr);
    ASSERT_TRUE(session.edit("font", [](const job::Job& job) {
        return job::set_parameter(job, job.marks.front().id, "family", std::string("Inter"));
    }));
    ASSERT_TRUE(test::wait_until([&] { return named<QuantityField>("Slant") != nullptr; }));
    auto* slant = named<QuantityField>("Slant");
    slant->setFocus();
    slant->selectAll();
    QTest::keyClicks(slant, "-5");
    QTest::keyClick(slant, Qt::Key_Return);
    EXPECT_EQ(words().axes, "slnt=-5");
    QuantityField* weight = nullptr;
    for (QuantityField* field : rail.findChildren<QuantityField*>())
        if (field->accessibleName() == "Weight" && field->isVisibleTo(&rail)) weight = field;
    ASSERT_NE(weight, nullptr);
    weight->setFocus();
    weight->selectAll();
    QTest::keyClicks(weight, "650");
    QTest::keyClick(weight, Qt::Key_Return);
    EXPECT_EQ(words().weight, 650);
    EXPECT_EQ(words().axes, "slnt=-5");
}

TEST_F(MarksRailOnDemo, AVariableIsAddedPutIntoTheTextAndEdited) {
    place();
    auto* card = rail.findChild<VariablesCard*>();
    ASSERT_NE(card, nullptr);
    card->add("serial");
    ASSERT_EQ(session.job().variables.list.size(), 1U);
    QPushButton* put = nullptr;
    for (QPushButton* button : card->findChildren<QPushButton*>())
        if (button->text() == "Put into text" && button->isVisibleTo(&rail)) put = button;
    ASSERT_NE(put, nullptr) << "a new one unfolds";
    const auto folds = card->findChildren<QPushButton*>();
    EXPECT_EQ(std::ranges::count_if(folds, [](const auto* button) { return button->text() == "Put into text"; }), 1);
    rail.edit_selected_text();
    put->click();
    EXPECT_EQ(words().text, "{serial}");
    auto* said = named<QLabel>("Size of the code");
    ASSERT_NE(said, nullptr);
    EXPECT_EQ(said->text(), "First part: 0001");
    auto* to = named<QLineEdit>("To");
    ASSERT_NE(to, nullptr);
    to->setFocus();
    to->selectAll();
    QTest::keyClicks(to, "0888");
    EXPECT_EQ(std::get<content::Serial>(session.job().variables.list.front().kind).count, 888);
    EXPECT_EQ(to->text(), "0888") << "what is typed stays";
    auto* name = named<QLineEdit>("Name of the variable");
    name->setFocus();
    name->selectAll();
    QTest::keyClicks(name, "sn");
    QTest::keyClick(name, Qt::Key_Return);
    EXPECT_EQ(words().text, "{sn}") << "the text goes along";
}

TEST_F(MarksRailOnDemo, WhatIsWrongWithAVariableStandsBesideItsFields) {
    place();
    auto* text = rail.findChild<QPlainTextEdit*>();
    text->setFocus();
    text->selectAll();
    QTest::keyClicks(text, "{lot}");
    auto* said = named<QLabel>("Size of the code");
    ASSERT_NE(said, nullptr);
    EXPECT_TRUE(said->text().startsWith("There is no variable {lot}.")) << said->text().toStdString();
    rail.findChild<VariablesCard*>()->add("lot");
    EXPECT_TRUE(said->text().startsWith("The variable {lot} has no value yet.")) << said->text().toStdString();
    auto* value = named<QLineEdit>("Value");
    ASSERT_NE(value, nullptr);
    const auto complains = [&] {
        const auto labels = rail.findChild<VariableRow*>()->findChildren<QLabel*>();
        return std::ranges::any_of(labels, [&](const QLabel* label) {
            return label->isVisibleTo(&rail) && label->text().contains("has no value yet");
        });
    };
    EXPECT_TRUE(complains());
    value->setFocus();
    QTest::keyClicks(value, "A7");
    EXPECT_FALSE(complains());
    EXPECT_EQ(said->text(), "First part: A7");
    session.history().undo();
    session.history().undo();
    EXPECT_TRUE(session.job().variables.empty());
}

TEST_F(MarksRailOnDemo, CardsStandInTheOrderOfTheJobAndGoWithTheirMark) {
    place();
    place();
    EXPECT_EQ(rail.findChildren<MarkCard*>().size(), 2);
    session.history().undo();
    QTest::qWait(50);
    EXPECT_EQ(rail.findChildren<MarkCard*>().size(), 1);
    auto* card = rail.findChild<MarkCard*>();
    card->setFocus();
    QTest::keyClick(card, Qt::Key_Delete);
    EXPECT_TRUE(session.job().marks.empty());
}

} // namespace
} // namespace touchmark::panels
