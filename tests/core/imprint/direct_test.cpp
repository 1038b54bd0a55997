// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include <gtest/gtest.h>

#include <chrono>

namespace touchmark::test {
namespace {

imprint::Footprint footprint(const part::Part& part, int face, geometry::Outline outline, Mode mode, double depth) {
    imprint::Footprint mark;
    mark.name = "mark";
    auto map = surface::map_face(part, face);
    if (!map) throw std::runtime_error(map.error().message);
    mark.map = *map;
    mark.outline = std::move(outline);
    mark.mode = mode;
    mark.depth = Mm(depth);
    return mark;
}

class BothModes : public testing::TestWithParam<Mode> {};
INSTANTIATE_TEST_SUITE_P(Direct, BothModes, testing::Values(Mode::engrave, Mode::raise),
                         [](const auto& mode) { return std::string(key_of(mode.param)); });

TEST_P(BothModes, ChangesTheVolumeByAreaTimesDepth) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const int letters : {1, 6, 100}) {
        const geometry::Outline outline = lettering(letters, 40, 30);
        const imprint::Footprint mark = footprint(*box, farthest_flat_face(*box, {0, 0, 1}), outline, GetParam(), 0.5);
        const auto t = std::chrono::steady_clock::now();
        const auto marked = imprint::imprint(box, std::span(&mark, 1), {}, Progress());
        const double ms = std::chrono::duration<double>(std::chrono::steady_clock::now() - t).count() * 1e3;
        ASSERT_TRUE(marked) << marked.error().message;
        const double expected = gauss_area(outline) * (GetParam() == Mode::engrave ? -0.5 : 0.5);
        const Difference is = difference(*box, *marked->part, 0);
        std::printf("%d: %.2f ms, %d faces, rel %.2e\n", letters, ms, marked->marks[0].faces_added,
                    is.volume / expected - 1);
        EXPECT_NEAR(is.volume / expected, 1, 1e-9);
        EXPECT_NEAR(marked->marks[0].volume_change_mm3 / expected, 1, 1e-12);
        EXPECT_TRUE(is.valid);
        EXPECT_TRUE(is.closed);
        EXPECT_TRUE(is.same_counts);
        EXPECT_EQ(marked->marks[0].route, imprint::Route::direct);
    }
}

} // namespace
} // namespace touchmark::test
