// SPDX-License-Identifier: MIT
#include "core/content/content.h"

#include "core/content/dxf_curves.h"
#include "tests/core/geometry/invariants.h"

#include <gmock/gmock.h>

#include <ctime>
#include <numbers>

namespace touchmark::content {
namespace {

constexpr double pi = std::numbers::pi;

/// Group codes and values, a line each.
std::string groups(std::initializer_list<std::pair<int, std::string>> pairs) {
    std::string text;
    for (const auto& [code, value] : pairs)
        text += std::to_string(code) + "\n" + value + "\n";
    return text;
}
std::string number(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.12g", value);
    return text;
}
std::string line(double x1, double y1, double x2, double y2) {
    return groups({{0, "LINE"}, {8, "0"}, {10, number(x1)}, {20, number(y1)}, {11, number(x2)}, {21, number(y2)}});
}
std::string circle(double x, double y, double r) {
    return groups({{0, "CIRCLE"}, {8, "0"}, {10, number(x)}, {20, number(y)}, {40, number(r)}});
}
std::string polyline(std::initializer_list<std::array<double, 3>> corners, bool closed = true) {
    std::string text =
        groups({{0, "LWPOLYLINE"}, {8, "0"}, {90, std::to_string(corners.size())}, {70, closed ? "1" : "0"}});
    for (const auto& [x, y, bulge] : corners)
        text += groups({{10, number(x)}, {20, number(y)}, {42, number(bulge)}});
    return text;
}
std::string file(const std::string& entities, int units = 4, const std::string& blocks = {}) {
    return groups({{0, "SECTION"}, {2, "HEADER"}, {9, "$INSUNITS"}, {70, std::to_string(units)}, {0, "ENDSEC"}}) +
           (blocks.empty() ? "" : groups({{0, "SECTION"}, {2, "BLOCKS"}}) + blocks + groups({{0, "ENDSEC"}})) +
           groups({{0, "SECTION"}, {2, "ENTITIES"}}) + entities + groups({{0, "ENDSEC"}, {0, "EOF"}});
}

ReadDrawing read(const std::string& text) {
    auto result = read_dxf(text);
    EXPECT_TRUE(result) << (result ? "" : result.error().message);
    return result.value_or(ReadDrawing{});
}
double area_of(const std::string& entities) {
    const ReadDrawing drawing = read(file(entities));
    EXPECT_TRUE(drawing.notes.empty()) << drawing.notes.front().what;
    EXPECT_TRUE(test::is_valid(drawing.outline));
    return geometry::area(drawing.outline);
}
std::vector<std::string> notes_of(const std::string& entities) {
    std::vector<std::string> notes;
    for (const Note& note : read(file(circle(0, 0, 5) + entities)).notes)
        notes.push_back(note.what);
    return notes;
}

TEST(Dxf, ClosedShapesHaveTheirClosedFormAreas) {
    EXPECT_NEAR(area_of(circle(3, 4, 10)) / (100 * pi), 1, 5e-6);
    EXPECT_NEAR(area_of(circle(0, 0, 10) + circle(0, 0, 6)) / (64 * pi), 1, 5e-6); // a hole
    EXPECT_NEAR(area_of(polyline({{0, 0, 0}, {30, 0, 0}, {30, 20, 0}, {0, 20, 0}})), 600, 1e-9);
    // A slot: two half circles, bulge 1 = a turn of 180°.
    EXPECT_NEAR(area_of(polyline({{0, 0, 0}, {30, 0, 1}, {30, 10, 0}, {0, 10, 1}})) / (300 + 25 * pi), 1, 5e-6);
    // The same with the arcs inwards.
    EXPECT_NEAR(area_of(polyline({{0, 0, 0}, {30, 0, -1}, {30, 10, 0}, {0, 10, -1}})) / (300 - 25 * pi), 1, 1e-5);
    // A circular segment of a quarter turn: r²/2 (θ − sin θ), bulge tan(θ/4).
    const double r = 10, chord = r * std::numbers::sqrt2;
    EXPECT_NEAR(area_of(polyline({{0, 0, std::tan(pi / 8)}, {chord, 0, 0}})), r * r / 2 * (pi / 2 - 1), 5e-4);
    EXPECT_NEAR(area_of(groups({{0, "ELLIPSE"},
                                {8, "0"},
                                {10, "1"},
                                {20, "2"},
                                {11, "3"},
                                {21, "4"},
                                {40, "0.5"},
                                {41, "0"},
                                {42, number(2 * pi)}})) /
                    (pi * 5 * 2.5),
                1, 5e-6);
    EXPECT_NEAR(area_of(groups({{0, "SOLID"},
                                {8, "0"},
                                {10, "0"},
                                {20, "0"},
                                {11, "4"},
                                {21, "0"},
                                {12, "0"},
                                {22, "3"},
                                {13, "4"},
                                {23, "3"}})),
                12, 1e-9);
}

TEST(Dxf, LooseLinesAndArcsAreChained) {
    // In any order and direction: a rounded corner.
    const std::string arc = groups({{0, "ARC"}, {8, "0"}, {10, "20"}, {20, "10"}, {40, "10"}, {50, "270"}, {51, "0"}});
    EXPECT_NEAR(area_of(line(0, 0, 20, 0) + line(0, 20, 30, 20) + arc + line(30, 20, 30, 10) + line(0, 0, 0, 20)),
                600 - (100 - 25 * pi), 1e-3);
    // Ends that miss each other by less than a drafter sees.
    EXPECT_NEAR(area_of(line(0, 0, 20, 0) + line(20, 0.0002, 20, 20) + line(20, 20, 0, 0.0001)), 200, 0.01);
}

TEST(Dxf, SplinesFollowTheirDefinition) {
    // A quadratic Bézier with its chord encloses 2/3 of its control triangle (Archimedes).
    const std::string parabola =
        groups({{0, "SPLINE"}, {8, "0"},   {70, "8"}, {71, "2"},  {72, "6"}, {73, "3"}, {74, "0"}, {40, "0"},
                {40, "0"},     {40, "0"},  {40, "1"}, {40, "1"},  {40, "1"}, {10, "0"}, {20, "0"}, {30, "0"},
                {10, "10"},    {20, "20"}, {30, "0"}, {10, "20"}, {20, "0"}, {30, "0"}});
    EXPECT_NEAR(area_of(parabola + line(20, 0, 0, 0)), 2.0 / 3 * 200, 1e-6);
    // A quarter circle as a rational quadratic: weight cos 45° (the textbook case).
    const dxf::Spline quarter{.degree = 2,
                              .closed = false,
                              .knots = {0, 0, 0, 1, 1, 1},
                              .points = {{10, 0}, {10, 10}, {0, 10}},
                              .weights = {1, std::sqrt(0.5), 1},
                              .through = {}};
    for (const auto& segment : dxf::segments_of(quarter, 1e-6))
        for (const double t : {0.0, 0.3, 0.7, 1.0})
            EXPECT_NEAR(length(point_at(segment, t)), 10, 3e-6);
    // Uniform cubic with an inner knot: the value there is the textbook mean (1, 4, 1)/6 of a uniform knot vector.
    const dxf::Spline uniform{.degree = 3,
                              .closed = false,
                              .knots = {0, 1, 2, 3, 4, 5, 6, 7, 8},
                              .points = {{0, 0}, {1, 3}, {4, 3}, {6, 0}, {9, 1}},
                              .weights = {},
                              .through = {}};
    const auto made = dxf::segments_of(uniform, 1e-9);
    ASSERT_EQ(made.size(), 2u);
    EXPECT_NEAR(distance(made[1].start(), Vec2{(1 + 16 + 6) / 6.0, (3 + 12 + 0) / 6.0}), 0, 1e-12);
    const auto through = dxf::segments_of(
        {.degree = 3, .closed = false, .knots = {}, .points = {}, .weights = {}, .through = {{0, 0}, {5, 5}, {10, 0}}},
        1e-6);
    ASSERT_EQ(through.size(), 2u);
    EXPECT_EQ(through[0].end(), (Vec2{5, 5}));
}

TEST(Dxf, UnitsBecomeMillimetres) {
    const auto width = [](int units) { return geometry::bounds(read(file(circle(0, 0, 1), units)).outline).width(); };
    EXPECT_NEAR(width(1), 50.8, 1e-6); // $INSUNITS of the DXF reference: 1 inches, 4 mm, 5 cm, 6 m
    EXPECT_NEAR(width(4), 2, 1e-6);
    EXPECT_NEAR(width(5), 20, 1e-6);
    EXPECT_NEAR(width(6), 2000, 1e-3);
    EXPECT_NEAR(width(0), 2, 1e-6);
    EXPECT_THAT(read(file(circle(0, 0, 1), 0)).notes.front().what, testing::HasSubstr("without a unit"));
}

TEST(Dxf, BlocksAreInsertedWhereTheyBelong) {
    const std::string blocks = groups({{0, "BLOCK"}, {8, "0"}, {2, "DOT"}, {70, "0"}, {10, "1"}, {20, "1"}}) +
                               circle(1, 1, 1) + groups({{0, "ENDBLK"}});
    const std::string insert = groups({{0, "INSERT"},
                                       {8, "0"},
                                       {2, "DOT"},
                                       {10, "10"},
                                       {20, "20"},
                                       {41, "2"},
                                       {42, "2"},
                                       {43, "2"},
                                       {50, "90"},
                                       {70, "3"},
                                       {71, "2"},
                                       {44, "10"},
                                       {45, "8"}});
    const auto drawing = read(file(insert, 4, blocks));
    EXPECT_NEAR(geometry::area(drawing.outline) / (6 * 4 * pi), 1, 5e-6);
    const Box2 box = geometry::bounds(drawing.outline);
    EXPECT_NEAR(box.low.x, 10 - 8 - 2, 1e-4); // rows go up, turned by 90° to the left
    EXPECT_NEAR(box.high.y, 20 + 20 + 2, 1e-4);
}

TEST(Dxf, WhatEnclosesNothingIsNamed) {
    using testing::Contains;
    using testing::HasSubstr;
    EXPECT_THAT(notes_of(line(0, 0, 9, 9)), Contains(HasSubstr("open lines")));
    EXPECT_THAT(notes_of(polyline({{20, 0, 0}, {30, 0, 0}, {30, 9, 0}}, false)), Contains(HasSubstr("open lines")));
    EXPECT_THAT(notes_of(groups({{0, "TEXT"}, {8, "0"}, {10, "0"}, {20, "0"}, {40, "2"}, {1, "A"}})), Contains("text"));
    EXPECT_THAT(notes_of(groups({{0, "POINT"}, {8, "0"}, {10, "0"}, {20, "0"}})), Contains("points"));
    EXPECT_THAT(notes_of(groups({{0, "INSERT"}, {8, "0"}, {2, "GONE"}, {10, "0"}, {20, "0"}})),
                Contains(HasSubstr("not in the file")));
}

TEST(Dxf, OpenLinesAreAsWideAsTheirLineWeight) {
    // Code 370, hundredths of a millimetre (DXF reference, common group codes): a stadium of 30 × 0.5 with round ends.
    const std::string stroke =
        groups({{0, "LINE"}, {8, "0"}, {370, "50"}, {10, "20"}, {20, "0"}, {11, "50"}, {21, "0"}});
    const ReadDrawing drawing = read(file(stroke, 5)); // centimetres: weights stay millimetres
    EXPECT_NEAR(geometry::area(drawing.outline), 300 * 0.5 + pi * 0.25 * 0.25, 1e-3);
    ASSERT_EQ(drawing.notes.size(), 1u);
    EXPECT_THAT(drawing.notes[0].what, testing::HasSubstr("as wide as their line weight"));
    EXPECT_FALSE(drawing.notes[0].lost);
    // Of a spline too, although it is told only when it ends; and one without a weight does not take its neighbour's.
    const std::string spline = groups({{0, "SPLINE"},
                                       {8, "0"},
                                       {370, "100"},
                                       {70, "8"},
                                       {71, "1"},
                                       {72, "4"},
                                       {73, "2"},
                                       {40, "0"},
                                       {40, "0"},
                                       {40, "1"},
                                       {40, "1"},
                                       {10, "0"},
                                       {20, "20"},
                                       {10, "40"},
                                       {20, "20"}});
    EXPECT_NEAR(geometry::area(read(file(spline + line(0, 50, 40, 50))).outline), 40 + pi * 0.25, 1e-3);
    EXPECT_THAT(notes_of(line(0, 50, 40, 50)), testing::ElementsAre(testing::HasSubstr("open lines, which enclose")));
}

TEST(Dxf, WidthsThatAreNotMarkedAreNamed) {
    const auto wide = [](int code) {
        return groups({{0, "LWPOLYLINE"},
                       {8, "0"},
                       {90, "2"},
                       {70, "0"},
                       {code, "1.5"},
                       {10, "20"},
                       {20, "0"},
                       {10, "30"},
                       {20, "9"}});
    };
    for (const int code : {40, 41, 43})
        EXPECT_THAT(notes_of(wide(code)), testing::Contains(testing::HasSubstr("widths of polylines"))) << code;
    const std::string weighed = groups({{0, "CIRCLE"}, {8, "0"}, {370, "35"}, {10, "30"}, {20, "0"}, {40, "5"}});
    EXPECT_THAT(notes_of(weighed), testing::ElementsAre(testing::HasSubstr("line weights of closed shapes")));
}

TEST(Dxf, CopiesByTheThousandOnEachOtherAreRefusedSoon) {
    // Found by the fuzz target: 25,440 ellipses that all cross their neighbours took 10 s.
    const std::string blocks =
        groups({{0, "BLOCK"}, {8, "0"}, {2, "A"}, {10, "0"}, {20, "0"}}) + circle(0, 0, 1) + groups({{0, "ENDBLK"}});
    const std::string inserts = groups({{0, "INSERT"},
                                        {8, "0"},
                                        {2, "A"},
                                        {10, "0"},
                                        {20, "0"},
                                        {41, "2"},
                                        {42, "90"},
                                        {70, "10"},
                                        {71, "2544"},
                                        {44, "0"},
                                        {45, "5"}});
    const std::clock_t start = std::clock(); // of this process alone, whatever else the machine does
    EXPECT_EQ(read_dxf(file(inserts, 4, blocks)).error().code, "content.art_too_complex");
    EXPECT_LT(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC, 8) << "sanitizers included";
}

TEST(Dxf, BadFilesGiveOneClearError) {
    const auto refusal = [](const std::string& text) {
        const auto result = read_dxf(text);
        return result ? std::string() : result.error().code;
    };
    EXPECT_EQ(refusal(""), "content.art_malformed");
    EXPECT_EQ(refusal("hello\nworld\n"), "content.art_malformed");
    EXPECT_EQ(refusal(file(circle(1e12, 0, 5))), "content.art_huge");
    const std::string loop = groups({{0, "BLOCK"}, {8, "0"}, {2, "A"}, {70, "0"}, {10, "0"}, {20, "0"}}) +
                             groups({{0, "INSERT"}, {8, "0"}, {2, "A"}, {10, "1"}, {20, "0"}}) +
                             groups({{0, "ENDBLK"}});
    const std::string use = groups({{0, "INSERT"}, {8, "0"}, {2, "A"}, {10, "0"}, {20, "0"}});
    EXPECT_EQ(refusal(file(use, 4, loop)), "content.art_too_complex");
    EXPECT_EQ(refusal(file(groups({{0, "INSERT"}, {8, "0"}, {2, "A"}, {70, "30000"}, {71, "30000"}}), 4, loop)),
              "content.art_too_complex");
    // A count that the file does not hold.
    (void)read_dxf(file(groups({{0, "LWPOLYLINE"}, {8, "0"}, {90, "2000000000"}, {70, "1"}, {10, "1"}, {20, "1"}})));
    (void)read_dxf(file(groups({{0, "SPLINE"}, {8, "0"}, {71, "3"}, {72, "-5"}, {73, "1000000000"}, {40, "1"}})));
}

} // namespace
} // namespace touchmark::content
