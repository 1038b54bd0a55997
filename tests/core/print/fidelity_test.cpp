// SPDX-License-Identifier: MIT
// Directions that the trade gives, "common practice, no source": a stroke under 0.5 mm does not print with a 0.4 mm
// nozzle, 6 pt is lost, bold holds better than regular, a side wall beats the top, on the top cut beats raised.
#include "core/print/fidelity.h"

#include "core/content/content.h"
#include "tests/core/print/bench_process.h"
#include "tests/core/print/shapes.h"

#include <gtest/gtest.h>

#include <numeric>

namespace touchmark::print {
namespace {

content::Drawn drawn(std::string text, double cap_height, int weight) {
    static const auto fonts = content::FontLibrary::system().value();
    content::Text content;
    content.text = std::move(text);
    content.family = "DejaVu Sans";
    content.weight = weight;
    content.cap_height = Mm(cap_height);
    return content::draw(content, *fonts).value();
}

std::vector<Fidelity> figures(const content::Drawn& drawn, const Standing& standing) {
    std::vector<Box2> boxes;
    for (const content::Piece& piece : drawn.pieces)
        if (piece.region_count > 0) boxes.push_back(piece.extent);
    return fidelity_of(simulate(drawn.outline, standing, profile(), Progress()).value(), boxes);
}

double mean_figure(const std::vector<Fidelity>& figures) {
    return std::accumulate(figures.begin(), figures.end(), 0.0,
                           [](double sum, const Fidelity& f) { return sum + f.figure(); }) /
           static_cast<double>(figures.size());
}
double worst_figure(const std::vector<Fidelity>& figures) {
    return std::ranges::min_element(figures, {}, &Fidelity::figure)->figure();
}

constexpr const char* sample = "REGaehk4&8";
constexpr double six_point = 6 * 25.4 / 72 * 0.729; // mm: the capital H of DejaVu Sans is 0.729 of its size

TEST(Fidelity, OfALargeMarkOnAWallIsAlmostWhole) {
    for (const Fidelity& letter : figures(drawn(sample, 12, 700), {})) {
        EXPECT_GT(letter.strokes, 0.97);
        EXPECT_GT(letter.gaps, 0.9); // lines do not reach into sharp corners
        EXPECT_GT(letter.overlap, 0.8);
        EXPECT_GT(letter.depth, 0.9);
        EXPECT_GE(letter.figure(), reads_from);
    }
}

TEST(Fidelity, StrokesBelowHalfAMillimetreDoNotPrintRaisedAndThoseAboveDo) {
    for (const auto& [width, prints] : {std::pair(0.25, false), {0.35, false}, {0.55, true}, {0.8, true}}) {
        const geometry::Outline bars = upright_bar(width);
        const auto box = geometry::bounds(bars);
        for (const Zone zone : {Zone::side_wall, Zone::top}) {
            const auto out = simulate(bars, {.mode = Mode::raise, .zone = zone}, profile(), Progress()).value();
            const Fidelity figure = fidelity_of(out, std::span(&box, 1)).front();
            EXPECT_EQ(figure.strokes > 0.9, prints) << width << ' ' << title_of(zone);
            EXPECT_EQ(figure.strokes < 0.1, !prints) << width << ' ' << title_of(zone);
        }
    }
}

TEST(Fidelity, SixPointIsLostWhateverTheZone) {
    for (const Zone zone : {Zone::side_wall, Zone::top, Zone::bottom})
        for (const Mode mode : {Mode::engrave, Mode::raise})
            EXPECT_LT(worst_figure(figures(drawn(sample, six_point, 400), {.mode = mode, .zone = zone})), lost_below)
                << title_of(zone) << ' ' << title_of(mode);
}

TEST(Fidelity, BoldHoldsBetterThanRegularRaised) {
    for (const double height : {1.5, 2.0, 2.5})
        EXPECT_GT(mean_figure(figures(drawn("HILTEF", height, 700), {.mode = Mode::raise})),
                  mean_figure(figures(drawn("HILTEF", height, 400), {.mode = Mode::raise})))
            << height;
}

TEST(Fidelity, AWallBeatsTheTopAndTheTopTheBottom) {
    const content::Drawn letters = drawn(sample, 3, 700);
    const double wall = mean_figure(figures(letters, {.zone = Zone::side_wall}));
    const double top = mean_figure(figures(letters, {.zone = Zone::top}));
    const double bottom = mean_figure(figures(letters, {.zone = Zone::bottom}));
    EXPECT_GT(wall, top);
    EXPECT_GT(top, bottom);
}

TEST(Fidelity, OnTheTopACutBeatsWhatIsRaised) {
    const content::Drawn letters = drawn(sample, 3, 400);
    EXPECT_GT(mean_figure(figures(letters, {.mode = Mode::engrave, .zone = Zone::top})),
              mean_figure(figures(letters, {.mode = Mode::raise, .zone = Zone::top})));
}

TEST(Fidelity, TheNotchOfAOneIsNoOpeningWhereverItsLayersLie) {
    const content::Drawn one = drawn("1", 5, 700);
    for (double first = 0; first < 0.2; first += 0.01) {
        const Fidelity figure = figures(one, {.first_layer_at = Mm(first)}).front();
        EXPECT_GE(figure.gaps, 0.9) << first;
        EXPECT_GE(figure.figure(), reads_from) << first;
    }
}

TEST(Fidelity, AClosedCounterIsMissedHoweverSmall) {
    Printed closed;
    for (const double height : {1.5, 3.0, 6.0}) {
        const content::Drawn letter = drawn("P", height, 700);
        closed = simulate(letter.outline, {}, profile(), Progress()).value();
        // As planned, but for the counter.
        for (std::size_t i = 0; i < closed.relief.values.size(); ++i)
            closed.relief.values[i] = static_cast<float>(-closed.depth) * closed.ideal.values[i];
        const Box2 box = letter.pieces.front().extent;
        EXPECT_GT(fidelity_of(closed, std::span(&box, 1)).front().gaps, 0.95) << height;
        std::ranges::fill(closed.relief.values, static_cast<float>(-closed.depth));
        EXPECT_LT(fidelity_of(closed, std::span(&box, 1)).front().gaps, 0.5) << height;
    }
}

TEST(Fidelity, SaysWhereMostIsMissing) {
    const geometry::Outline bars{{bar({-3, -3}, {-2, 3}), bar({2, -3}, {2.2, 3})}}; // the right one is too thin
    const auto box = geometry::bounds(bars);
    for (const Vec2 up : {Vec2{0, 1}, Vec2{1, 0}, Vec2{0, -1}}) {
        const auto out = simulate(bars, {.mode = Mode::raise, .up = up}, profile(), Progress()).value();
        EXPECT_NEAR(fidelity_of(out, std::span(&box, 1)).front().worst.x, 2.1, 0.2);
    }
}

} // namespace
} // namespace touchmark::print
