// SPDX-License-Identifier: MIT
#include "app/panels/marks_rail.h"
#include "app/window/finder.h"
#include "app/window/header.h"
#include "tests/app/window/bench.h"

#include <QAccessible>
#include <QLineEdit>
#include <QMimeData>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <fstream>
#include <set>

namespace touchmark {
namespace {

using Window = test::Bench;

void place_mark(session::Session& session, const char* words) {
    const job::Mark mark = test::mark_on_side_wall(session, words);
    ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
}

std::vector<std::string> nameless(const QWidget& window) {
    std::vector<std::string> found;
    for (QWidget* widget : window.findChildren<QWidget*>()) {
        if (!widget->isVisible() || !(widget->focusPolicy() & Qt::TabFocus) || widget->focusProxy()) continue;
        QAccessibleInterface* spoken = QAccessible::queryAccessibleInterface(widget);
        if (!spoken || spoken->text(QAccessible::Name).trimmed().isEmpty())
            found.push_back(std::string(widget->metaObject()->className()) + " in " +
                            widget->parentWidget()->metaObject()->className());
    }
    return found;
}

TEST_F(Window, EveryControlHasAnAccessibleName) {
    EXPECT_THAT(nameless(*window), testing::IsEmpty()) << "with nothing open";
    open(test::demo_part());
    place_mark(session(), "small");
    settle();
    QTest::qWait(50);
    EXPECT_THAT(nameless(*window), testing::IsEmpty()) << "with a mark unfolded";
}

TEST_F(Window, TabGoesRoundThroughHeaderMarksFindingsAndPlate) {
    open(test::demo_part());
    place_mark(session(), "A-17");
    settle();
    ASSERT_TRUE(test::wait_until([&] { return window->isActiveWindow(); }, 5000));
    window->findChild<panels::NewMark*>()->setFocus();
    std::set<QWidget*> visited;
    for (int i = 0; i < 120; ++i) {
        QWidget* now = QApplication::focusWidget();
        ASSERT_NE(now, nullptr);
        visited.insert(now);
        QTest::keyClick(now, Qt::Key_Tab);
    }
    int missed = 0;
    for (const QWidget* widget : window->findChildren<QWidget*>()) {
        const bool reachable = widget->isVisible() && widget->isEnabled() && (widget->focusPolicy() & Qt::TabFocus) &&
                               !widget->focusProxy();
        if (!reachable || visited.contains(const_cast<QWidget*>(widget))) continue;
        // In a row of mutually exclusive buttons the arrow keys go on from the first.
        if (widget->property("look").toString() == "segment") continue;
        ++missed;
        ADD_FAILURE() << widget->metaObject()->className() << " " << widget->accessibleName().toStdString()
                      << " is never reached";
    }
    EXPECT_EQ(missed, 0);
}

TEST_F(Window, At1280By720NothingScrollsSidewaysInLightAndDark) {
    open(test::demo_part());
    place_mark(session(), "A rather long text on one line");
    settle();
    for (const auto appearance : {window::Appearance::light, window::Appearance::dark}) {
        window->set_appearance(appearance);
        window->resize(1280, 720);
        QTest::qWait(50);
        EXPECT_EQ(window->size(), QSize(1280, 720));
        EXPECT_GE(window->stage().width(), 600) << "the part keeps the middle";
        for (const QScrollArea* area : window->findChildren<QScrollArea*>()) {
            if (!area->isVisible()) continue;
            EXPECT_LE(area->widget()->width(), area->viewport()->width())
                << area->parentWidget()->accessibleName().toStdString();
        }
        for (const QPushButton* button : window->findChildren<QPushButton*>()) {
            if (!button->isVisible() || button->sizePolicy().horizontalPolicy() == QSizePolicy::Ignored) continue;
            EXPECT_GE(button->width(), button->minimumSizeHint().width()) << button->text().toStdString();
        }
    }
}

TEST_F(Window, FindAnActionRunsWhatWasTyped) {
    open(test::demo_part());
    QTest::keyClick(window.get(), Qt::Key_K, Qt::ControlModifier);
    window::Finder* finder = nullptr;
    ASSERT_TRUE(
        test::wait_until([&] { return (finder = window->findChild<window::Finder*>()) && finder->isVisible(); }, 5000));
    auto* typed = finder->findChild<QLineEdit*>();
    QTest::keyClicks(typed, "turn left");
    QTest::keyClick(typed, Qt::Key_Return);
    EXPECT_DOUBLE_EQ(session().job().pose.turn.value, 90);
    EXPECT_EQ(window::pose_words(session().job().pose), "Turned 90.0°");
}

TEST_F(Window, AFileDroppedOnTheWindowOpens) {
    QMimeData data;
    data.setUrls({QUrl::fromLocalFile(QString::fromStdString(test::demo_part().string()))});
    QDragEnterEvent enter(QPoint(400, 300), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QCoreApplication::sendEvent(window.get(), &enter);
    ASSERT_TRUE(enter.isAccepted());
    QDropEvent drop(QPointF(400, 300), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QCoreApplication::sendEvent(window.get(), &drop);
    EXPECT_TRUE(test::wait_until([&] { return session().part() != nullptr; }));
}

TEST_F(Window, AnUnreadableFileIsOneCalmBannerAndEscClosesIt) {
    std::ofstream(file("notes.step")) << "these are notes";
    window->files().open(QString::fromStdString(file("notes.step").string()));
    ASSERT_TRUE(test::wait_until([&] { return !window->banner().message().isEmpty(); }));
    EXPECT_TRUE(window->banner().message().contains("notes.step"));
    EXPECT_EQ(QApplication::activeModalWidget(), nullptr);
    QTest::keyClick(window.get(), Qt::Key_Escape);
    EXPECT_TRUE(window->banner().message().isEmpty());
}

TEST_F(Window, UnsavedChangesAreAskedAboutAndCancelStays) {
    open(test::demo_part());
    place_mark(session(), "A-17");
    EXPECT_TRUE(window->isWindowModified());
    answer(QMessageBox::Cancel);
    window->close();
    EXPECT_TRUE(window->isVisible());
    answer(QMessageBox::Discard);
    window->close();
    EXPECT_FALSE(window->isVisible());
}

TEST_F(Window, ThePartThatWasOpenedIsNeverOverwritten) {
    std::filesystem::copy_file(test::demo_part(), file("part.step"));
    const auto size = std::filesystem::file_size(file("part.step"));
    open(file("part.step"));
    place_mark(session(), "A-17");
    window->files().save_step_to(QString::fromStdString(file("part.step").string()));
    EXPECT_TRUE(window->banner().message().contains("take the place"));
    QTest::qWait(300);
    EXPECT_EQ(std::filesystem::file_size(file("part.step")), size);
}

TEST_F(Window, EscBacksOutStepByStep) {
    open(test::demo_part());
    place_mark(session(), "A-17");
    window->setFocus();
    EXPECT_FALSE(session().selected_mark().isEmpty());
    QTest::keyClick(window.get(), Qt::Key_Escape);
    EXPECT_TRUE(session().selected_mark().isEmpty());
    EXPECT_EQ(session().job().marks.size(), 1U) << "backing out of a selection undoes nothing";
}

TEST_F(Window, WhatWasOpenedIsOfferedAgainNextTime) {
    open(test::demo_part());
    window->close();
    window.reset();
    SetUp();
    bool offered = false;
    for (const QPushButton* button : window->findChildren<QPushButton*>())
        offered = offered || (button->isVisible() && button->text().contains("sensor-bracket.step"));
    EXPECT_TRUE(offered);
}

TEST_F(Window, WithoutAMarkThereIsNothingToSaveAsStep) {
    EXPECT_FALSE(window->actions()["save_step"].isEnabled());
    open(test::demo_part());
    EXPECT_FALSE(window->actions()["save_step"].isEnabled());
    place_mark(session(), "A-17");
    EXPECT_TRUE(window->actions()["save_step"].isEnabled());
}

} // namespace
} // namespace touchmark
