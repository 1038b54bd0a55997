// SPDX-License-Identifier: MIT
#include "app/viewport/scene.h"

#include "app/viewport/pixel_buffer.h"
#include "tests/app/viewport/shapes.h"

#include <gtest/gtest.h>

#include <set>

namespace touchmark::viewport {
namespace {

/// A thin plate standing on edge, seen by a camera; no application, no display.
class SceneTest : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(buffer_.works()) << "no EGL here";
        buffer_.host().resize(320, 240);
        scene_.set_part(test::box_meshes({-20, -1.5, 0}, {20, 1.5, 30}), {});
        scene_.set_placement(plate::Placement{});
        camera_.target = {0, 0, 15};
        camera_.distance = 120;
    }

    QImage draw() {
        scene_.prepare(camera_, 1);
        return buffer_.draw().copy();
    }
    [[nodiscard]] QPoint where(Vec3 point) const {
        const View::Seen seen = View{camera_, 320, 240}.see(point);
        return {static_cast<int>(seen.x), static_cast<int>(seen.y)};
    }
    static MarkShape cut(double depth) {
        MarkShape mark;
        mark.relief = test::square_relief(0, -1.5, 15, 4, depth);
        mark.mode = depth > 0 ? Mode::engrave : Mode::raise;
        return mark;
    }

    PixelBuffer buffer_;
    Scene scene_{buffer_.host()};
    Camera camera_;
};

TEST_F(SceneTest, ACutShowsThroughTheUncutFace) {
    const QRgb bare = draw().pixel(where({0, -1.5, 15}));
    scene_.set_marks({cut(0.8)});
    const QImage marked = draw();
    EXPECT_LT(qGray(marked.pixel(where({0, -1.5, 15}))), qGray(bare) / 2);
    EXPECT_EQ(marked.pixel(where({12, -1.5, 15})), bare) << "beside the mark nothing changes";
}

TEST_F(SceneTest, ACutIsConfinedToItsOpeningAlsoFromTheSide) {
    camera_.azimuth = 1.1;
    const QImage bare = draw();
    scene_.set_marks({cut(0.8)});
    const QImage marked = draw();
    int changed = 0;
    for (int y = 0; y < bare.height(); ++y)
        for (int x = 0; x < bare.width(); ++x) {
            if (bare.pixel(x, y) == marked.pixel(x, y)) continue;
            ++changed;
            const QPoint left = where({-4, -1.5, 15}), right = where({4, -1.5, 15});
            const QPoint top = where({4, -1.5, 19}), bottom = where({4, -1.5, 11});
            EXPECT_TRUE(x >= left.x() - 2 && x <= right.x() + 2 && y >= top.y() - 2 && y <= bottom.y() + 2)
                << x << ' ' << y;
        }
    EXPECT_GT(changed, 100);
}

TEST_F(SceneTest, ACutLooksAsInAPartThatHasIt) {
    constexpr Vec3 low{-20, -1.5, 0}, high{20, 1.5, 30};
    plate::Meshes with_cut = test::cut_box_meshes(low, high, 0, 15, 4, 1.2);
    const MadeBy made_by{{}, {}, {}, {}, {}, {}, Mode::engrave};
    for (const auto& [azimuth, elevation] : {std::pair{0.0, 0.0}, {0.5, 0.3}, {-0.9, 0.6}, {1.3, 0.1}, {2.6, 0.4}}) {
        camera_.azimuth = azimuth;
        camera_.elevation = elevation;
        camera_.distance = 60;
        scene_.set_part(with_cut, made_by);
        scene_.set_marks({});
        const QImage exact = draw();
        scene_.set_part(test::box_meshes(low, high), {});
        const QImage bare = draw();
        scene_.set_marks({cut(1.2)});
        const QImage overlay = draw();
        const QPolygon rim({where({-4, -1.5, 11}), where({4, -1.5, 11}), where({4, -1.5, 19}), where({-4, -1.5, 19})});
        const auto on_rim = [&](QPoint at) { // the outline drawn there hides a few pixels
            for (int dx = -3; dx <= 3; dx += 3)
                for (int dy = -3; dy <= 3; dy += 3)
                    if (rim.containsPoint(at, Qt::OddEvenFill) !=
                        rim.containsPoint(at + QPoint(dx, dy), Qt::OddEvenFill))
                        return true;
            return false;
        };
        int different = 0, cut_seen = 0;
        for (int y = 0; y < exact.height(); ++y)
            for (int x = 0; x < exact.width(); ++x) {
                if (on_rim({x, y})) continue;
                different += std::abs(qGray(exact.pixel(x, y)) - qGray(overlay.pixel(x, y))) > 4 ? 1 : 0;
                cut_seen += overlay.pixel(x, y) != bare.pixel(x, y) ? 1 : 0;
            }
        EXPECT_LE(different, 10) << azimuth; // pixels through which an edge of the floor runs
        EXPECT_EQ(cut_seen > 200, azimuth < 1.5) << azimuth << ": " << cut_seen;
    }
}

TEST_F(SceneTest, ACutDoesNotShowFromBehindAThinPart) {
    for (const double azimuth : {3.14159, 2.4, -2.4}) {
        camera_.azimuth = azimuth;
        camera_.elevation = 0.3;
        scene_.set_marks({});
        const QImage bare = draw();
        scene_.set_marks({cut(0.8)});
        EXPECT_EQ(draw(), bare) << azimuth;
    }
}

TEST_F(SceneTest, ARaisedMarkIsLighterThanThePart) {
    const QRgb bare = draw().pixel(where({0, -1.5, 15}));
    scene_.set_marks({cut(-0.8)});
    EXPECT_GT(qGray(draw().pixel(where({0, -2.3, 15}))), qGray(bare));
}

TEST_F(SceneTest, TheKeptBaseLooksLikeTheBaseDrawnAnew) {
    scene_.set_marks({cut(0.8)});
    const QImage anew = draw();
    buffer_.host().set_base_kept(true);
    EXPECT_EQ(draw(), anew); // drawn and kept
    scene_.set_marks({});
    const QImage without = draw(); // brought back
    EXPECT_NE(without, anew);
    scene_.set_marks({cut(0.8)});
    EXPECT_EQ(draw(), anew);
    buffer_.host().set_base_kept(false);
    EXPECT_EQ(draw(), anew);
}

TEST_F(SceneTest, ACutDoesNotShowThroughWhatStandsBeforeIt) {
    plate::Meshes two = test::box_meshes({-20, -1.5, 0}, {20, 1.5, 30});
    for (const auto& mesh : test::box_meshes({-10, -2.5, 5}, {10, -2.2, 25})) // nearer than the cut is deep
        two.push_back(mesh);
    scene_.set_part(two, {});
    const QImage bare = draw();
    scene_.set_marks({cut(0.8)});
    EXPECT_EQ(draw(), bare);
}

TEST_F(SceneTest, TheMeantFaceIsTintedWhereItIsInSight) {
    plate::Meshes two = test::box_meshes({-20, -1.5, 0}, {20, 1.5, 30});
    for (const auto& mesh : test::box_meshes({-5, -6, 10}, {5, -4, 20}))
        two.push_back(mesh);
    scene_.set_part(two, {});
    const QImage bare = draw();
    scene_.set_meant_face(*two[2]);
    const QImage meant = draw();
    EXPECT_NE(meant.pixel(where({15, -1.5, 15})), bare.pixel(where({15, -1.5, 15})));
    EXPECT_EQ(meant.pixel(where({0, -6, 15})), bare.pixel(where({0, -6, 15}))) << "hidden by what stands before it";
    scene_.set_meant_face({});
    EXPECT_EQ(draw(), bare);
}

TEST_F(SceneTest, ACutIsOpenOnlyWhereThereIsAFace) {
    scene_.set_marks({});
    const QImage bare = draw();
    MarkShape over_the_edge = cut(0.8);
    over_the_edge.relief = test::square_relief(20, -1.5, 15, 4, 0.8); // half of it beyond x = 20
    scene_.set_marks({over_the_edge});
    const QImage marked = draw();
    EXPECT_NE(marked.pixel(where({18, -1.5, 15})), bare.pixel(where({18, -1.5, 15})));
    EXPECT_EQ(marked.pixel(where({22, -1.5, 15})), bare.pixel(where({22, -1.5, 15})));
}

/// Pixels of the row through the middle of the part whose tone lies between that of the part and the backdrop's.
int between_tones(const QImage& image, int row) {
    const int part = qGray(image.pixel(image.width() / 2, row)), backdrop = qGray(image.pixel(2, row));
    int between = 0;
    for (int x = 0; x < image.width(); ++x) {
        const int tone = qGray(image.pixel(x, row));
        between += std::abs(tone - part) > 6 && std::abs(tone - backdrop) > 6 ? 1 : 0;
    }
    return between;
}

TEST_F(SceneTest, RefiningSmoothsEdgesAndLeavesTheRest) {
    for (const bool kept : {false, true}) {
        camera_.elevation = 0.2;
        scene_.set_marks({cut(0.8)});
        buffer_.host().set_base_kept(kept);
        const QImage rough = draw();
        for (int i = 0; i < SampleMean::enough; ++i) {
            EXPECT_FALSE(buffer_.host().refined());
            buffer_.host().refine();
            (void)draw();
        }
        EXPECT_TRUE(buffer_.host().refined());
        const QImage smooth = draw();
        int tones_rough = 0, tones_smooth = 0;
        for (int row = 60; row < 120; ++row) {
            tones_rough += between_tones(rough, row);
            tones_smooth += between_tones(smooth, row);
        }
        EXPECT_GT(tones_smooth, tones_rough + 30) << kept;
        for (const Vec3 at : {Vec3{0, -1.5, 15}, Vec3{12, -1.5, 15}})
            EXPECT_NEAR(qGray(smooth.pixel(where(at))), qGray(rough.pixel(where(at))), 1) << kept;
        scene_.set_marks({});
        EXPECT_GT(std::abs(qGray(draw().pixel(where({0, -1.5, 15}))) - qGray(smooth.pixel(where({0, -1.5, 15})))), 20);
        EXPECT_EQ(buffer_.host().refined(), kept) << "marks leave the kept base as smooth as it is";
        buffer_.host().set_base_kept(false);
        EXPECT_FALSE(buffer_.host().refined());
    }
}

TEST_F(SceneTest, AvoidedSurfacesAreHatched) {
    process::Process process = *process::load_process(std::string(TOUCHMARK_RESOURCES) + "/processes/fff-0.4.json");
    scene_.set_shading(process, Mode::engrave);
    const auto tones = [this](QPoint middle) {
        const QImage image = draw();
        std::set<int> found;
        for (int dx = -12; dx <= 12; ++dx)
            for (int dy = -4; dy <= 4; ++dy)
                found.insert(qGray(image.pixel(middle + QPoint(dx, dy))));
        return *found.rbegin() - *found.begin();
    };
    EXPECT_LE(tones(where({0, -1.5, 15})), 2) << "a side wall is even";
    for (process::Suitability& suits : process.suitability)
        if (suits.zone == Zone::side_wall) suits.figure.value = 0.1;
    scene_.set_shading(process, Mode::engrave);
    EXPECT_GT(tones(where({0, -1.5, 15})), 25);
}

} // namespace
} // namespace touchmark::viewport
