// SPDX-License-Identifier: MIT
// Against elementary geometry: perimeters and areas of bars, discs and rings, counts in a lattice, paths of a given
// volume, times of given lengths.
#include "core/print/layers.h"

#include "tests/core/print/bench_process.h"
#include "tests/core/print/shapes.h"

#include <gtest/gtest.h>

#include <random>

namespace touchmark::print {
namespace {

constexpr double pi = std::numbers::pi;

/// Without roundings, lines hardly wide: edges are the figure's own.
process::Process thin_profile() {
    process::Process process = sharp_profile();
    process.line_width_mm.value = 0.02;
    process.printing->least_line_mm.value = 0.02;
    return process;
}

Layers layered(const geometry::Outline& outline, const Standing& standing, const process::Process& process,
               const LayersOptions& options = {}) {
    auto out = layers_of(outline, standing, process, options, Progress());
    EXPECT_TRUE(out) << (out ? "" : out.error().message);
    return out ? *std::move(out) : Layers();
}

geometry::Outline disc(double radius) {
    return {{{geometry::contour_of(circle(radius)), {}}}};
}
geometry::Outline ring(double outer, double inner) {
    return {{{geometry::contour_of(circle(outer)), {geometry::reversed(geometry::contour_of(circle(inner)))}}}};
}
/// n × n squares, `side` wide, `pitch` apart.
geometry::Outline lattice(int n, double side, double pitch) {
    geometry::Outline out;
    for (int i = 0; i < n; ++i)
        for (int k = 0; k < n; ++k)
            out.regions.push_back(bar({i * pitch, k * pitch}, {i * pitch + side, k * pitch + side}));
    return out;
}

constexpr Standing cut_on_top{.zone = Zone::top}, raised_on_top{.mode = Mode::raise, .zone = Zone::top};

TEST(LayersOnTop, ABarCutInIsOneOutlineOfItsPerimeterInEachOfItsLayers) {
    const Layers out = layered({{bar({-2, -0.5}, {2, 0.5})}}, cut_on_top, thin_profile());
    ASSERT_EQ(out.layers.size(), 3U); // 0.5 mm are two and a half layers of 0.2
    EXPECT_FALSE(out.across);
    for (const Layer& layer : out.layers) {
        EXPECT_NEAR(layer.extra.outline_mm, 10, 0.02);
        EXPECT_EQ(layer.extra.outlines, 1U);
        EXPECT_EQ(layer.extra.travels, 1U);
        EXPECT_EQ(layer.extra.islands, 0U);
        EXPECT_EQ(layer.extra.retractions, 0U);
        EXPECT_NEAR(layer.extra.seconds, 10 / 50.0, 1e-3); // 50 mm/s in the profile
        EXPECT_EQ(layer.islands_s, 0);
        EXPECT_EQ(layer.regions, out.layers.front().regions);
    }
    EXPECT_NEAR(out.layers[1].from_mm, 0.2, 1e-9);
    EXPECT_NEAR(out.layers[1].to_mm, 0.4, 1e-9);
    EXPECT_NEAR(out.extra.outline_mm, 30, 0.06);
    EXPECT_EQ(out.extra.travels, 3U);
    EXPECT_FALSE(out.extra.smallest_island_mm2);
}

TEST(LayersOnTop, ACutRingHasTwoOutlinesAndLeavesADiscStanding) {
    const Layers out = layered(ring(3, 2), cut_on_top, thin_profile());
    for (const Layer& layer : out.layers) {
        EXPECT_EQ(layer.extra.outlines, 2U);
        EXPECT_EQ(layer.extra.islands, 1U);
        EXPECT_EQ(layer.extra.retractions, 1U);
        EXPECT_NEAR(layer.extra.outline_mm, 2 * pi * 5, 0.05);
        EXPECT_NEAR(layer.extra.smallest_island_mm2.value(), 4 * pi, 0.02);
        EXPECT_NEAR(layer.extra.travel_mm, 0, 1e-6); // one middle
    }
}

TEST(LayersOnTop, ARaisedDiscIsAnIslandLaidFullSoThatItsPathHasItsVolume) {
    const process::Process process = sharp_profile();
    const Layers out = layered(disc(2), raised_on_top, process);
    ASSERT_EQ(out.layers.size(), 3U);
    for (const Layer& layer : out.layers) {
        EXPECT_NEAR(layer.extra.path_mm * process.line_width_mm.value, 4 * pi, 0.02);
        EXPECT_NEAR(layer.extra.outline_mm, 4 * pi, 0.02);
        const double seconds = 4 * pi / process.line_width_mm.value / 50 + 0.1; // one retraction of 0.1 s
        EXPECT_NEAR(layer.extra.seconds, seconds, 2e-3);
        EXPECT_NEAR(layer.islands_s, seconds, 2e-3);
    }
    EXPECT_EQ(out.extra.islands, 3U);
    EXPECT_EQ(out.extra.raised_islands, 1U);
    EXPECT_EQ(out.extra.first_layer_islands, 0U);
}

TEST(LayersOnTop, ALayerOfNothingButTheMarkTakesTheLeastLayerTime) {
    const process::Process process = sharp_profile(); // 10 s
    const LayersOptions alone{.beside = Beside::nothing};
    const Extra small = layered(disc(1), raised_on_top, process, alone).extra;
    EXPECT_NEAR(small.seconds, 30, 1e-9);
    EXPECT_NEAR(small.waited_s, 30 - layered(disc(1), raised_on_top, process).extra.seconds, 1e-9);
    const double own = layered(disc(30), raised_on_top, process).extra.seconds;
    ASSERT_GT(own, 30);
    EXPECT_NEAR(layered(disc(30), raised_on_top, process, alone).extra.seconds, own, 1e-9);
}

TEST(LayersOnTop, ALatticeHasAnIslandASquareAndAPitchOfTravelBetweenThem) {
    const Layers out = layered(lattice(5, 1, 2), raised_on_top, sharp_profile());
    const Layer& layer = out.layers.front();
    EXPECT_EQ(layer.extra.islands, 25U);
    EXPECT_EQ(layer.extra.travels, 25U);
    EXPECT_NEAR(layer.extra.travel_mm, 24 * 2, 1e-3);
    EXPECT_NEAR(layer.extra.smallest_island_mm2.value(), 1, 0.04); // corners are rounded: r² (4 − π) = 0.038
    EXPECT_EQ(out.extra.raised_islands, 25U);
    EXPECT_EQ(out.extra.islands, 75U);
}

TEST(LayersOnTop, ShowWhatIsTooNarrowForALineAndWhatFuses) {
    const process::Process process = sharp_profile(); // lines of 0.42
    const auto regions = [&](const geometry::Outline& outline, const Standing& standing) {
        return layered(outline, standing, process).layers.front().regions;
    };
    const auto thin = regions({{bar({-3, -0.2}, {3, 0.2})}}, raised_on_top);
    EXPECT_TRUE(thin->laid.empty());
    EXPECT_NEAR(geometry::area(thin->left_out), 2.4, 0.01);
    const auto wide = regions({{bar({-3, -0.3}, {3, 0.3})}}, raised_on_top);
    EXPECT_NEAR(geometry::area(wide->laid), 3.6, 0.05);
    // A rib of 0.3 mm between two cuts is left out.
    const auto rib = regions({{bar({-3, 0.15}, {3, 1}), bar({-3, -1}, {3, -0.15})}}, cut_on_top);
    EXPECT_NEAR(geometry::area(rib->left_out), 6 * 0.3, 0.03);
    EXPECT_TRUE(rib->fused.empty());
    // A cut of 0.1 mm closes where lines spread by 0.08 on either side.
    process::Process spread = process;
    spread.printing->bead_spread_mm.value = 0.08;
    const Layers closed = layered({{bar({-3, -0.05}, {3, 0.05})}}, cut_on_top, spread);
    EXPECT_NEAR(geometry::area(closed.layers.front().regions->fused), 0.6, 0.01);
    EXPECT_EQ(closed.extra.outlines, 0U);
}

TEST(LayersOnTop, TheMaterialAboutACutIsTheFaceLessTheCut) {
    const Layers out = layered({{bar({-2, -0.5}, {2, 0.5})}}, cut_on_top, thin_profile());
    const double face = out.box.width() * out.box.height();
    EXPECT_NEAR(geometry::area(out.layers.front().regions->laid), face - 4, 0.01);
}

TEST(LayersOnTheBottom, TheFirstLayerIsApartAndASmallIslandOnItIsLost) {
    process::Process process = sharp_profile();
    process.printing->first_layer_spread_mm.value = 0.15;
    const Standing on_plate{.zone = Zone::bottom, .depth = Mm(0.6)};
    const Layers out = layered(ring(1.4, 0.5), on_plate, process); // the disc: 0.79 mm², 1.33 where it is spread
    ASSERT_EQ(out.layers.size(), 3U);
    EXPECT_TRUE(out.layers[0].on_plate);
    EXPECT_FALSE(out.layers[1].on_plate);
    EXPECT_EQ(out.extra.first_layer_islands, 1U);
    EXPECT_EQ(out.layers[0].lost_islands, 0U);
    EXPECT_NEAR(out.layers[0].extra.smallest_island_mm2.value(), pi * 0.65 * 0.65, 0.02);
    EXPECT_NEAR(out.layers[1].extra.smallest_island_mm2.value(), pi * 0.25, 0.02);
    process.printing->first_layer_spread_mm.value = 0;
    const Layers lost = layered(ring(1.4, 0.5), on_plate, process);
    EXPECT_EQ(lost.layers[0].lost_islands, 1U);
    EXPECT_EQ(lost.layers[0].regions->laid.regions.size(), 1U);
    EXPECT_NEAR(geometry::area(lost.layers[0].regions->left_out), pi * 0.25, 0.02);
}

TEST(LayersOnTheBottom, TheLayerOverACutBridgesItInLines) {
    const process::Process process = sharp_profile();
    const Layers out = layered({{bar({-2, -1}, {2, 1})}}, {.zone = Zone::bottom}, process);
    EXPECT_NEAR(out.extra.unsupported_mm, 8 / process.line_width_mm.value, 0.1);
    EXPECT_NEAR(layered({{bar({-2, -1}, {2, 1})}}, cut_on_top, process).extra.unsupported_mm, 0, 1e-9);
}

TEST(LayersOfAnInlay, CountThePocketAndTheBodyThatFillsIt) {
    const process::Process process = sharp_profile();
    const Layers out = layered({{bar({-2, -1}, {2, 1})}}, {.mode = Mode::inlay, .zone = Zone::top}, process);
    const Layer& layer = out.layers.front();
    EXPECT_EQ(layer.extra.islands, 1U);
    EXPECT_EQ(layer.extra.outlines, 2U);
    EXPECT_NEAR(layer.extra.outline_mm, 24, 0.02);
    EXPECT_NEAR(layer.extra.path_mm, 12 + 8 / process.line_width_mm.value, 0.05);
}

TEST(LayersOnAWall, ANotchLengthensEachLayersEdgeByTwiceItsDepth) {
    const Layers out = layered({{bar({-2, -1}, {2, 1})}}, {.depth = Mm(0.6)}, thin_profile());
    ASSERT_EQ(out.layers.size(), 11U); // ten notched and the one whose edge hangs over the notch
    EXPECT_TRUE(out.across);
    for (std::size_t i = 0; i < 10; ++i) {
        const Layer& layer = out.layers[i];
        EXPECT_NEAR(layer.extra.outline_mm, 1.2, 0.03) << i;
        EXPECT_NEAR(layer.from_mm, -1 + 0.2 * static_cast<double>(i), 1e-9);
        EXPECT_EQ(layer.extra.travels, 0U);
        EXPECT_EQ(layer.extra.islands, 0U);
    }
    EXPECT_NEAR(out.extra.outline_mm, 12, 0.3);
    EXPECT_NEAR(out.extra.seconds, 12 / 50.0, 0.01);
    // Its roof hangs over it by more than half a line, as long as the notch is.
    EXPECT_NEAR(out.extra.unsupported_mm, 4, 0.11);
    EXPECT_NEAR(out.layers.back().extra.unsupported_mm, 4, 0.11);
}

TEST(LayersOnAWall, ASectionIsTheWallLessItsNotch) {
    const Layers out = layered({{bar({-2, -1}, {2, 1})}}, {.depth = Mm(0.6)}, thin_profile());
    const Regions& notched = *out.layers[4].regions;
    const Box2 box = geometry::bounds(notched.laid);
    EXPECT_NEAR(box.high.y, 0, 1e-6);
    EXPECT_NEAR(geometry::area(notched.laid), box.width() * box.height() - 4 * 0.6, 0.05);
    EXPECT_NEAR(geometry::area(notched.planned), box.width() * box.height() - 4 * 0.6, 1e-6);
    EXPECT_TRUE(notched.left_out.empty());
    EXPECT_TRUE(notched.fused.empty());
}

TEST(LayersOnAWall, ANarrowRaisedStrokeIsLeftOutAndANarrowCutFuses) {
    process::Process process = sharp_profile();
    const Layers raised = layered(upright_bar(0.2, 2), {.mode = Mode::raise}, process);
    const double planned = 0.2 * 0.5, chord = 0.21 - std::sqrt(0.21 * 0.21 - 0.01);
    EXPECT_NEAR(geometry::area(raised.layers[5].regions->left_out), planned - 0.2 * chord * 2 / 3, 0.02);
    EXPECT_TRUE(raised.layers[5].regions->fused.empty());
    process.printing->bead_spread_mm.value = 0.2;
    const Layers cut = layered(upright_bar(0.2, 2), {}, process);
    // Lines of the rims on either side reach over it: discs of radius 0.41 about points 0.31 from its middle.
    double left_mm2 = 0;
    for (int i = 0; i < 1000; ++i)
        left_mm2 += (0.41 - std::sqrt(0.41 * 0.41 - std::pow(0.31 - (i + 0.5) * 1e-4, 2))) * 2e-4;
    EXPECT_NEAR(geometry::area(cut.layers[5].regions->fused), 0.2 * 0.5 - left_mm2, 0.003);
    EXPECT_TRUE(cut.layers[5].regions->left_out.empty());
}

TEST(LayersOnAWall, ARaisedBarIsLaidByItsVolume) {
    const process::Process process = thin_profile();
    const Layers out = layered({{bar({-2, -1}, {2, 1})}}, {.mode = Mode::raise, .depth = Mm(0.6)}, process);
    EXPECT_NEAR(out.layers[4].extra.path_mm, 4 * 0.6 / process.line_width_mm.value, 0.5);
    EXPECT_EQ(out.extra.islands, 0U);
    // What juts out over the wall below it hangs, in the lowest layer alone.
    EXPECT_NEAR(out.extra.unsupported_mm, 4, 0.11);
    EXPECT_NEAR(out.layers.front().extra.unsupported_mm, 4, 0.11);
}

TEST(LayersOnAWall, AVoidUnderItIsAClosedOutlineInEachLayerBehindItsCover) {
    const geometry::Outline two{{bar({-3, -1}, {-1, 1}), bar({1, -1}, {3, 1})}};
    const Layers out = layered(two, {.mode = Mode::hidden, .depth = Mm(0.6)}, thin_profile(), {.cover = Mm(0.4)});
    const Layer& layer = out.layers[4];
    EXPECT_EQ(layer.extra.outlines, 2U);
    EXPECT_EQ(layer.extra.travels, 2U);
    EXPECT_EQ(layer.extra.retractions, 0U);
    EXPECT_NEAR(layer.extra.outline_mm, 2 * (2 * 2 + 2 * 0.6), 0.15);
    EXPECT_NEAR(layer.extra.travel_mm, 4, 0.06);
    ASSERT_EQ(layer.regions->laid.regions.size(), 1U);
    const geometry::Region& wall = layer.regions->laid.regions.front();
    ASSERT_EQ(wall.holes.size(), 2U);
    EXPECT_NEAR(geometry::bounds(wall.holes[0]).high.y, -0.4, 1e-6);
    EXPECT_NEAR(geometry::bounds(wall.holes[0]).low.y, -1.0, 1e-3);
    EXPECT_LT(geometry::area(wall.holes[0]), 0);
}

TEST(LayersOnAWall, LieWhereThePlateHasThem) {
    const Layers out = layered(upright_bar(1, 2), {.first_layer_at = Mm(-0.8)}, sharp_profile());
    std::size_t on_plate = 0;
    for (const Layer& layer : out.layers)
        on_plate += layer.on_plate;
    EXPECT_EQ(on_plate, 1U);
    EXPECT_TRUE(out.layers.front().on_plate);
    EXPECT_NEAR(out.layers.front().to_mm, -0.8, 1e-9);
}

TEST(LayersOfAMark, CountTheSameWithoutTheirRegions) {
    const process::Process process = profile();
    for (const Zone zone : {Zone::side_wall, Zone::top, Zone::bottom})
        for (const Mode mode : {Mode::engrave, Mode::raise, Mode::hidden, Mode::inlay}) {
            const Standing standing{.mode = mode, .zone = zone};
            const Layers shown = layered(ring(2, 0.4), standing, process),
                         counted = layered(ring(2, 0.4), standing, process, {.want = Want::counts});
            ASSERT_EQ(counted.layers.size(), shown.layers.size());
            EXPECT_EQ(counted.extra.islands, shown.extra.islands);
            EXPECT_EQ(counted.extra.outline_mm, shown.extra.outline_mm);
            EXPECT_EQ(counted.extra.seconds, shown.extra.seconds);
            EXPECT_EQ(counted.extra.smallest_island_mm2, shown.extra.smallest_island_mm2);
            EXPECT_EQ(counted.layers[0].lost_islands, shown.layers[0].lost_islands);
            EXPECT_FALSE(counted.layers[0].regions);
            EXPECT_TRUE(shown.layers[0].regions);
        }
}

TEST(LayersOfAMark, OfRandomFiguresAddUpAndAreFinite) {
    std::mt19937_64 random(20'260'612);
    std::uniform_real_distribution<double> place(-4, 4);
    const process::Process process = profile();
    for (int i = 0; i < 6; ++i) {
        std::vector<geometry::Contour> contours;
        for (int k = 0; k < 3; ++k) {
            geometry::Polygon polygon;
            for (int corner = 0; corner < 7; ++corner)
                polygon.push_back({place(random), place(random)}); // crosses itself and the others
            contours.push_back(geometry::contour_of(polygon));
        }
        const geometry::Outline outline = geometry::outline_from(std::move(contours)).value();
        for (const Zone zone : zones)
            for (const Mode mode : modes) {
                const Layers out = layered(outline, {.mode = mode, .zone = zone, .up = {0.6, 0.8}}, process);
                Extra sum;
                for (const Layer& layer : out.layers) {
                    sum += layer.extra;
                    EXPECT_GE(layer.extra.outlines, layer.extra.islands);
                    EXPECT_GE(layer.extra.outline_mm, 0);
                    EXPECT_GE(layer.extra.path_mm, -1e-6);
                    EXPECT_TRUE(std::isfinite(layer.extra.seconds));
                    EXPECT_LT(layer.from_mm, layer.to_mm);
                    for (const geometry::Outline* part : {&layer.regions->planned, &layer.regions->laid,
                                                          &layer.regions->left_out, &layer.regions->fused})
                        for (const geometry::Region& region : part->regions)
                            EXPECT_GT(geometry::area(region.outer), 0) << key_of(zone) << key_of(mode);
                }
                EXPECT_EQ(sum.islands, out.extra.islands);
                EXPECT_DOUBLE_EQ(sum.seconds, out.extra.seconds);
            }
    }
}

TEST(LayersOfAMark, AreRefusedAsTheSimulationIs) {
    process::Process process = profile();
    EXPECT_EQ(layers_of({}, {}, process, {}, Progress()).error().code, "print.empty");
    Progress cancelled;
    cancelled.cancel();
    for (const Zone zone : {Zone::side_wall, Zone::top})
        EXPECT_EQ(layers_of(upright_bar(1), {.zone = zone}, process, {}, cancelled).error().code, cancelled_code);
    process.printing.reset();
    EXPECT_EQ(layers_of(upright_bar(1), {}, process, {}, Progress()).error().code, "print.no_figures");
}

} // namespace
} // namespace touchmark::print
