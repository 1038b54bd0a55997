// SPDX-License-Identifier: MIT
#include "app/viewport/viewport.h"

#include "app/viewport/sample_mean.h"
#include "tests/app/viewport/shapes.h"

#include <QApplication>
#include <QPainter>
#include <QSignalSpy>
#include <QTest>
#include <QWheelEvent>
#include <gtest/gtest.h>

namespace touchmark::viewport {
namespace {

class ViewportTest : public testing::Test {
protected:
    ViewportTest() {
        qputenv("TOUCHMARK_VIEWPORT", "raster");
        viewport_ = std::make_unique<Viewport>();
        viewport_->resize(640, 480);
        const plate::Meshes box = test::box_meshes({0, 0, 0}, {40, 20, 30});
        viewport_->set_part(box, test::numbered(6));
        viewport_->set_pose(plate::placement_of({}, box), 30);
        viewport_->show();
        settle();
    }
    void settle() {
        viewport_->arrive();
        (void)viewport_->grab_image();
    }
    void wheel(QPointF at, int notches) {
        QWheelEvent event(at, viewport_->mapToGlobal(at), {}, {0, notches * 120}, Qt::NoButton, Qt::NoModifier,
                          Qt::NoScrollPhase, false);
        QApplication::sendEvent(viewport_.get(), &event);
        settle();
    }

    std::unique_ptr<Viewport> viewport_;
};

TEST_F(ViewportTest, PicksWhatIsSeenUnderThePointer) {
    viewport_->look({0, -1, 0}, {0, 0, 1}); // from the front
    settle();
    const auto hit = viewport_->pick({320, 240});
    ASSERT_TRUE(hit);
    EXPECT_EQ(hit->face, 2);
    EXPECT_NEAR(distance(hit->point, {20, 0, 15}), 0, 0.2);
    const QPointF back = viewport_->to_widget(hit->point);
    EXPECT_NEAR(back.x(), 320, 0.01);
    EXPECT_NEAR(back.y(), 240, 0.01);
    EXPECT_TRUE(viewport_->visible({20, 0, 15}));
    EXPECT_FALSE(viewport_->visible({20, 20, 15})) << "the far side";
}

TEST_F(ViewportTest, ALeftDragBesideEverythingTurnsTheView) {
    const QPointF before = viewport_->to_widget({40, 0, 30});
    QSignalSpy moved(viewport_.get(), &Viewport::camera_changed);
    QTest::mousePress(viewport_.get(), Qt::LeftButton, {}, {600, 40});
    QTest::mouseMove(viewport_.get(), {560, 60});
    QTest::mouseRelease(viewport_.get(), Qt::LeftButton, {}, {560, 60});
    settle();
    EXPECT_GE(moved.count(), 1);
    EXPECT_GT(QLineF(before, viewport_->to_widget({40, 0, 30})).length(), 10);
}

TEST_F(ViewportTest, ShiftDragMovesThePartWithThePointer) {
    viewport_->look({0, -1, 0}, {0, 0, 1});
    settle();
    const Vec3 held = viewport_->pick({300, 250})->point;
    QTest::mousePress(viewport_.get(), Qt::LeftButton, Qt::ShiftModifier, {300, 250});
    QMouseEvent move(QEvent::MouseMove, QPointF(360, 200), viewport_->mapToGlobal(QPointF(360, 200)), Qt::NoButton,
                     Qt::LeftButton, Qt::ShiftModifier);
    QApplication::sendEvent(viewport_.get(), &move);
    QTest::mouseRelease(viewport_.get(), Qt::LeftButton, Qt::ShiftModifier, {360, 200});
    EXPECT_NEAR(viewport_->to_widget(held).x(), 360, 0.5);
    EXPECT_NEAR(viewport_->to_widget(held).y(), 200, 0.5);
}

TEST_F(ViewportTest, TheWheelZoomsToThePointer) {
    const auto under = viewport_->pick({340, 250});
    ASSERT_TRUE(under);
    const double scale = viewport_->pixels_per_mm(under->point);
    wheel({340, 250}, 3);
    EXPECT_NEAR(viewport_->to_widget(under->point).x(), 340, 0.5);
    EXPECT_NEAR(viewport_->to_widget(under->point).y(), 250, 0.5);
    EXPECT_GT(viewport_->pixels_per_mm(under->point), scale * 1.3);
}

TEST_F(ViewportTest, ADoubleClickShowsTheWholePartAgain) {
    wheel({340, 250}, 20);
    QTest::mouseDClick(viewport_.get(), Qt::LeftButton, {}, {10, 10});
    settle();
    for (const Vec3 corner : {Vec3{0, 0, 0}, Vec3{40, 20, 30}, Vec3{40, 0, 0}, Vec3{0, 20, 30}})
        EXPECT_TRUE(QRectF(viewport_->rect()).contains(viewport_->to_widget(corner)));
}

TEST_F(ViewportTest, FliesToASpotSquarelyAndLargeEnough) {
    viewport_->fly_to({40, 10, 15}, {1, 0, 0}, 6);
    settle();
    EXPECT_NEAR(viewport_->to_widget({40, 10, 15}).x(), 320, 0.5);
    EXPECT_NEAR(viewport_->to_widget({40, 10, 15}).y(), 240, 0.5);
    EXPECT_NEAR(viewport_->pixels_per_mm({40, 10, 15}) * 6, 480 / 3.0, 2);
    EXPECT_EQ(viewport_->pick({320, 240})->face, 1);
}

TEST_F(ViewportTest, AFlightTakesAboutAFifthOfASecond) {
    const QPointF before = viewport_->to_widget({40, 0, 30});
    viewport_->look({1, 0, 0}, {0, 0, 1});
    EXPECT_LT(QLineF(before, viewport_->to_widget({40, 0, 30})).length(), 60) << "no jump";
    QTest::qWait(450);
    const QPointF there = viewport_->to_widget({40, 0, 30});
    viewport_->arrive();
    EXPECT_EQ(there, viewport_->to_widget({40, 0, 30})) << "arrived by itself";
}

/// Takes left presses; remembers what it was offered.
struct Taker : Handler {
    std::vector<QEvent::Type> offered;
    int painted = 0;
    bool handle(QEvent& event) override {
        offered.push_back(event.type());
        return event.type() == QEvent::MouseButtonPress;
    }
    void paint(QPainter& painter) override {
        ++painted;
        painter.fillRect(QRectF(5, 5, 10, 10), Qt::magenta);
    }
};

TEST_F(ViewportTest, AHandlerComesBeforeTheCameraAndPaintsOnTop) {
    Taker taker;
    viewport_->add_handler(&taker);
    const QPointF before = viewport_->to_widget({40, 0, 30});
    QTest::mousePress(viewport_.get(), Qt::LeftButton, {}, {100, 100});
    QTest::mouseMove(viewport_.get(), {200, 150});
    QTest::mouseRelease(viewport_.get(), Qt::LeftButton, {}, {200, 150});
    EXPECT_EQ(viewport_->to_widget({40, 0, 30}), before) << "the camera saw nothing";
    EXPECT_EQ(taker.offered.front(), QEvent::MouseButtonPress);
    EXPECT_EQ(viewport_->grab_image().pixelColor(10, 10), QColor(Qt::magenta));
    EXPECT_GT(taker.painted, 0);
    viewport_->remove_handler(&taker);
    EXPECT_NE(viewport_->grab_image().pixelColor(10, 10), QColor(Qt::magenta));
}

TEST_F(ViewportTest, WhatHandlersPaintDoesNotDrawTheSceneAgain) {
    QSignalSpy drawn(viewport_.get(), &Viewport::rendered);
    while (drawn.wait(400)) {
    } // until the picture is as smooth as it gets
    const auto before = drawn.count();
    for (int i = 0; i < 5; ++i) {
        viewport_->update_overlay();
        QTest::qWait(10);
    }
    EXPECT_EQ(drawn.count(), before);
}

TEST_F(ViewportTest, GrowsFinerWhenStill) {
    wheel({340, 250}, 1);
    QSignalSpy drawn(viewport_.get(), &Viewport::rendered);
    for (int frame = 0; frame < SampleMean::enough; ++frame)
        EXPECT_TRUE(drawn.wait(2000)) << "finer frames follow the last movement";
    EXPECT_FALSE(drawn.wait(400)) << "and come to an end";
}

TEST_F(ViewportTest, TheMarkedPartIsPickedByTheFacesOfTheUnmarkedOne) {
    plate::Meshes marked = test::box_meshes({0, 0, 0}, {40, 20, 30});
    marked.push_back(std::make_shared<part::FaceMesh>(test::square_relief(20, 0, 15, 3, 0.5)));
    std::vector<int> hosts = test::numbered(6);
    hosts.push_back(-1);
    viewport_->set_part(marked, hosts, {});
    viewport_->look({0, -1, 0}, {0, 0, 1});
    settle();
    EXPECT_EQ(viewport_->pick({320, 240})->face, 2);
}

} // namespace
} // namespace touchmark::viewport
