// SPDX-License-Identifier: MIT
#include "tests/core/content/lettering.h"

#include <gmock/gmock.h>

#include <cmath>

namespace touchmark::content {
namespace {

using test::drawn;
using test::refusal;
using testing::HasSubstr;

Text to_width(std::string said, double width, FitBy by) {
    return {.text = std::move(said), .cap_height = Mm(5), .fit_width = Mm(width), .fit = by};
}
double width_of(const Text& text) {
    return drawn(text).extent.width();
}

TEST(FitBySize, TheTextIsAsWideAsAskedForInItsOwnProportions) {
    Text plain{.text = "NW-2207 Rev. C", .cap_height = Mm(5)};
    const double at_five = width_of(plain);
    for (const double width : {7.0, 30.0, 180.0}) {
        const Drawn fit = drawn(to_width(plain.text, width, FitBy::size));
        EXPECT_NEAR(fit.extent.width(), width, 1e-6);
        EXPECT_NEAR(fit.cap_height.value, 5 * width / at_five, 1e-6) << "lengths go with the cap height";
        EXPECT_TRUE(test::is_consistent(fit));
        plain.cap_height = fit.cap_height;
        EXPECT_NEAR(geometry::area(drawn(plain).outline), geometry::area(fit.outline), 1e-6);
    }
}

TEST(FitBySize, OfSeveralLinesTheWidestCounts) {
    const Drawn fit = drawn(to_width("TYPE\nNW-2207 LOT 48\n7", 40, FitBy::size));
    EXPECT_NEAR(fit.extent.width(), 40, 1e-6);
}

TEST(FitBySize, SpacingAndHeavierStrokesKeepTheirMillimetres) {
    Text text = to_width("HALL", 25, FitBy::size);
    text.letter_spacing = Mm(0.7);
    text.heavier = Mm(0.3);
    const Drawn fit = drawn(text);
    EXPECT_NEAR(fit.extent.width(), 25, 1e-3); // curves of grown letters are polygons within 2 µm
    EXPECT_DOUBLE_EQ(fit.letter_spacing.value, 0.7);
    text.heavier = Mm(-0.1); // vanishes at the smallest size that is tried, not at the one it has
    EXPECT_NEAR(drawn(text).extent.width(), 25, 1e-3);
}

TEST(FitBySpacing, LettersKeepTheirSizeAndTheirGapsGrowAlike) {
    const Drawn plain = drawn("HAND 7", {}, 5);
    for (const double by : {-0.4, 3.0, 12.0}) {
        const Drawn fit = drawn(to_width("HAND 7", plain.extent.width() + by, FitBy::spacing));
        EXPECT_NEAR(fit.extent.width(), plain.extent.width() + by, 1e-6);
        EXPECT_NEAR(fit.letter_spacing.value, by / 5, 1e-6) << "five gaps between six characters";
        EXPECT_NEAR(geometry::area(fit.outline), geometry::area(plain.outline), 1e-6);
    }
}

TEST(FitBySpacing, OfSeveralLinesTheWidestCountsWhicheverItBecomes) {
    // The first is wider as it comes, the second has more gaps.
    for (const double width : {29.0, 45.0}) {
        const Drawn fit = drawn(to_width("WWWW\nIIIIIIIIII", width, FitBy::spacing));
        EXPECT_NEAR(fit.extent.width(), width, 1e-6);
    }
}

TEST(FitOnAnArc, TheWidthIsTakenAlongTheBaseline) {
    for (const double radius : {30.0, -30.0})
        for (const FitBy by : {FitBy::size, FitBy::spacing}) {
            Text text = to_width("HHHHHH", 34, by);
            text.cap_height = Mm(4);
            text.letter_spacing = Mm(3); // inside, tops come closer to each other
            text.arc_radius = Mm(radius);
            const Drawn fit = drawn(text);
            ASSERT_EQ(fit.pieces.size(), 6u);
            // An H is symmetrical about its middle, half a cap height off the baseline's circle; between the middles of
            // the first and the last lies the width less one H.
            const double ring = std::abs(radius + fit.cap_height.value / 2);
            const double chord = distance(fit.pieces.front().extent.centre(), fit.pieces.back().extent.centre());
            const double along = 2 * std::asin(chord / 2 / ring) * std::abs(radius);
            const double one = drawn("H", {}, fit.cap_height.value).extent.width();
            EXPECT_NEAR(along + one, 34, 1e-3) << radius;
        }
    Text round = to_width("HHHHHH", 70, FitBy::size);
    round.arc_radius = Mm(10); // 62.8 mm round
    EXPECT_EQ(refusal(round), "content.arc");
}

TEST(Fit, WhatCannotBeIsRefusedWithWhatCan) {
    const auto error = [](const Text& text) {
        const auto result = draw(text, test::fonts());
        EXPECT_FALSE(result);
        return result ? Error{} : result.error();
    };
    const Error far = error(to_width("AB", 60, FitBy::spacing));
    EXPECT_EQ(far.code, "content.fit");
    EXPECT_THAT(far.message, HasSubstr("0.50 mm closer to 5.00 mm further")) << "a tenth and a whole cap height";
    EXPECT_THAT(far.message, HasSubstr("not 60.0 mm"));
    EXPECT_THAT(error(to_width("H", 20, FitBy::spacing)).message, HasSubstr("no gaps"));
    EXPECT_THAT(error(to_width(std::string(300, 'W'), 5, FitBy::size)).message, HasSubstr("lower than 0.20 mm"));
    EXPECT_THAT(error(to_width("i", 4000, FitBy::size)).message, HasSubstr("higher than 500 mm"));
    EXPECT_EQ(error(to_width("", 20, FitBy::size)).code, "content.empty");
    EXPECT_EQ(error(to_width("A", -1, FitBy::size)).code, "content.size");
}

TEST(Fit, ScalesByItsWidth) {
    const Text text = to_width("NW-2207", 30, FitBy::size);
    EXPECT_EQ(size_of(text), Mm(30));
    const Content larger = with_size(text, Mm(45));
    EXPECT_NEAR(width_of(std::get<Text>(larger)), 45, 1e-6);
    const Drawn fit = drawn(text);
    EXPECT_NEAR(width_of(as_drawn(text, fit)), 30, 1e-6);
    EXPECT_EQ(as_drawn(text, fit).fit_width, Mm(0));
    EXPECT_NEAR(width_of(in_proportion(text, Mm(10))), 60, 1e-6) << "every length goes along";
}

} // namespace
} // namespace touchmark::content
