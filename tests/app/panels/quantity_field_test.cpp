// SPDX-License-Identifier: MIT
#include "app/panels/quantity_field.h"

#include "tests/app/support/application.h"

#include <QSignalSpy>
#include <QWheelEvent>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

class QuantityFieldTest : public testing::Test {
protected:
    void SetUp() override {
        window.resize(300, 100);
        field.setGeometry(10, 10, 120, 32);
        field.set_value(4.23);
        window.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&window));
    }
    void focus() {
        window.activateWindow();
        field.setFocus();
        ASSERT_TRUE(test::wait_until([&] { return field.hasFocus(); }, 5000));
    }
    void turn_wheel(int by) {
        QWheelEvent event(QPointF(5, 5), field.mapToGlobal(QPointF(5, 5)), {}, QPoint(0, by), Qt::NoButton,
                          Qt::NoModifier, Qt::NoScrollPhase, false);
        QCoreApplication::sendEvent(&field, &event);
    }
    QWidget window;
    QuantityField field{{Measure::length, "mm", 0.5, 20, 0.5}, &window};
    QSignalSpy changed{&field, &QuantityField::changed_to};
    QSignalSpy trouble{&field, &QuantityField::trouble};
};

TEST_F(QuantityFieldTest, AWordStandsForZeroUntilItIsEdited) {
    QuantityField radius(
        {.measure = Measure::length, .unit = "mm", .least = -50, .most = 50, .step = 1, .zero = "straight"}, &window);
    radius.show();
    EXPECT_EQ(radius.text(), "straight");
    window.activateWindow();
    radius.setFocus();
    ASSERT_TRUE(test::wait_until([&] { return radius.hasFocus(); }, 5000));
    EXPECT_EQ(radius.text(), "0.00") << "a number to be edited";
    QTest::keyClick(&radius, Qt::Key_Up);
    radius.clearFocus();
    EXPECT_EQ(radius.text(), "1.00");
    radius.set_value(0);
    EXPECT_EQ(radius.text(), "straight");
    QuantityField count({.measure = Measure::plain, .unit = {}, .least = 0, .most = 40, .step = 1, .whole = true},
                        &window);
    count.set_value(7);
    EXPECT_EQ(count.text(), "7") << "a count has no decimals";
}

TEST_F(QuantityFieldTest, ArrowKeysLandOnWholeSteps) {
    focus();
    QTest::keyClick(&field, Qt::Key_Up);
    EXPECT_DOUBLE_EQ(field.value(), 4.5);
    QTest::keyClick(&field, Qt::Key_Up, Qt::ShiftModifier);
    EXPECT_DOUBLE_EQ(field.value(), 9.5);
    QTest::keyClick(&field, Qt::Key_Down);
    EXPECT_DOUBLE_EQ(field.value(), 9);
    QTest::keyClick(&field, Qt::Key_PageUp);
    QTest::keyClick(&field, Qt::Key_PageUp);
    QTest::keyClick(&field, Qt::Key_PageUp);
    EXPECT_DOUBLE_EQ(field.value(), 20) << "held at the greatest value";
}

TEST_F(QuantityFieldTest, EnterCommitsWhatWasTyped) {
    focus();
    field.selectAll();
    QTest::keyClicks(&field, "1/8 in");
    EXPECT_TRUE(changed.isEmpty()) << "half a number is no number";
    QTest::keyClick(&field, Qt::Key_Return);
    ASSERT_EQ(changed.size(), 1);
    EXPECT_DOUBLE_EQ(changed.front().front().toDouble(), 3.175);
}

TEST_F(QuantityFieldTest, NonsenseAndWhatIsOutOfRangeAreToldAndLeaveTheValue) {
    focus();
    for (const char* typed : {"abc", "25", "0.1"}) {
        trouble.clear();
        field.selectAll();
        QTest::keyClicks(&field, typed);
        QTest::keyClick(&field, Qt::Key_Return);
        ASSERT_FALSE(trouble.isEmpty()) << typed;
        EXPECT_FALSE(trouble.back().front().toString().isEmpty()) << typed;
        EXPECT_DOUBLE_EQ(field.value(), 4.23) << typed;
    }
    QTest::keyClick(&field, Qt::Key_Escape);
    EXPECT_EQ(field.text(), "4.23");
    EXPECT_TRUE(changed.isEmpty());
}

TEST_F(QuantityFieldTest, TheWheelStepsOnlyOnceFocused) {
    turn_wheel(120);
    EXPECT_TRUE(changed.isEmpty()) << "scrolling past must not change a value";
    focus();
    turn_wheel(120);
    EXPECT_DOUBLE_EQ(field.value(), 4.5);
}

TEST_F(QuantityFieldTest, ANewValueFromOutsideDoesNotPullTheTextFromUnderTheHand) {
    focus();
    field.selectAll();
    QTest::keyClicks(&field, "7");
    field.set_value(11);
    EXPECT_EQ(field.text(), "7");
    QTest::keyClick(&field, Qt::Key_Return);
    EXPECT_DOUBLE_EQ(field.value(), 7);
}

} // namespace
} // namespace touchmark::panels
