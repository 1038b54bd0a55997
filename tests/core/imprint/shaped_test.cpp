// SPDX-License-Identifier: MIT

// Walls that lean, and are rounded at the floor.

#include "tests/core/imprint/shapes.h"
#include "tests/support/solid_check.h"

#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <STEPControl_Writer.hxx>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <map>
#include <numbers>
#include <random>

namespace touchmark::test {
namespace {

using geometry::Contour;
using geometry::Outline;
using geometry::Region;
using geometry::Segment;

constexpr std::array routes{imprint::RouteChoice::automatic, imprint::RouteChoice::general};

imprint::Footprint on_top(const part::Part& part, Outline outline, Mode mode, double depth, double draft,
                          double rounding = 0) {
    auto map = surface::map_face(part, farthest_flat_face(part, {0, 0, 1}));
    if (!map) throw std::runtime_error(map.error().message);
    imprint::Footprint mark{"mark", *map, std::move(outline), mode, Mm(depth), {}};
    mark.draft = Degrees(draft);
    mark.floor_rounding = Mm(rounding);
    return mark;
}

Result<imprint::Imprinted> put(const part::PartPtr& part, const imprint::Footprint& mark,
                               imprint::RouteChoice route = imprint::RouteChoice::automatic) {
    imprint::Options options;
    options.route = route;
    return imprint::imprint(part, std::span(&mark, 1), options, Progress());
}

SolidFigures written_and_read(const part::Part& part) {
    STEPControl_Writer writer;
    const auto file = std::filesystem::temp_directory_path() / ("shaped_" + std::to_string(getpid()) + ".step");
    for (std::size_t i = 0; i < part.bodies().size(); ++i)
        writer.Transfer(part::occurrence(part, static_cast<int>(i)).shape, STEPControl_AsIs);
    writer.Write(file.c_str());
    const SolidFigures read = read_bare(file);
    std::filesystem::remove(file);
    return read;
}

/// A sound solid that changed by what it should: on the solid and by the program's own word.
void expect_change(const part::PartPtr& part, const Result<imprint::Imprinted>& made, double change,
                   double within = 1e-6) {
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_NEAR(made->marks[0].volume_change_mm3 / change, 1,
                made->marks[0].route == imprint::Route::direct ? within : 1e-5);
    const Difference is = difference(*part, *made->part, 0);
    EXPECT_NEAR(is.volume / change, 1, made->marks[0].route == imprint::Route::direct ? within : 1e-5);
    EXPECT_TRUE(is.valid);
    EXPECT_TRUE(is.closed);
    EXPECT_EQ(is.more_solids, 0);
    EXPECT_EQ(is.more_shells, 0);
}

/// Still so after STEP.
void expect_to_survive(const Result<imprint::Imprinted>& made) {
    ASSERT_TRUE(made);
    const SolidFigures read = written_and_read(*made->part);
    EXPECT_TRUE(read.valid);
    EXPECT_TRUE(read.closed);
    EXPECT_EQ(read.solids, static_cast<int>(made->part->bodies().size()));
    // The same measurement of both: it is rough on the part's own roundings.
    if (made->part->bodies().size() == 1) {
        const double meant = figures_of(part::occurrence(*made->part, 0).shape).volume;
        EXPECT_NEAR(read.volume, meant, 1e-6 * std::abs(made->marks[0].volume_change_mm3) + 1e-9 * meant);
    }
}

double length_of(const Contour& contour) {
    double sum = 0;
    const geometry::Polygon points = geometry::flattened(contour, 1e-8);
    for (std::size_t i = 0; i < points.size(); ++i)
        sum += distance(points[i], points[(i + 1) % points.size()]);
    return sum;
}

double slope(double degrees) {
    return std::tan(degrees * std::numbers::pi / 180);
}

/// Where the area at the inset d is A − P d + c d² (Steiner), the volume under walls of that slope.
double leaning(double a, double p, double c, double depth, double slope) {
    return a * depth - p * slope * depth * depth / 2 + c * slope * slope * depth * depth * depth / 3;
}

/// The same under upright walls with a quarter circle at the floor: d = r (1 − cos φ) at the height r sin φ.
double rounded(double a, double p, double c, double depth, double r) {
    return a * depth - p * r * r * (1 - std::numbers::pi / 4) + c * r * r * r * (5.0 / 3 - std::numbers::pi / 2);
}

struct Figure {
    Outline outline;
    double a, p, c; ///< of Steiner's formula
};

/// Shapes whose area at every inset is known in closed form: c is Σ tan(turn / 2) over corners that close, −turn / 2
/// over those that open, and half the turning of smooth contours: π outside, −π for a hole.
std::vector<Figure> figures() {
    const double pi = std::numbers::pi;
    const Region l{geometry::contour_of(geometry::Polygon{{0, 0}, {5, 0}, {5, 2}, {2, 2}, {2, 5}, {0, 5}}), {}};
    const Region triangle{geometry::contour_of(geometry::Polygon{{-4, -2}, {4, -3}, {1, 4}}), {}};
    double corners = 0;
    for (int i = 0; i < 3; ++i) {
        const auto at = [&](int k) { return triangle.outer.segments[static_cast<std::size_t>((i + k) % 3)].start(); };
        const Vec2 in = at(1) - at(0), out = at(2) - at(1);
        corners += std::tan(std::atan2(cross(in, out), dot(in, out)) / 2);
    }
    const Region disc{circle({1, 1}, 3), {}};
    const Region hoop = ring({0, 0}, 4, 2.2);
    const Region window{rectangle({-4, -3}, {4, 3}), {geometry::reversed(rectangle({-2, -1.5}, {2, 1.5}))}};
    std::vector<Figure> all;
    const auto add = [&](const Region& region, double c) {
        double around = length_of(region.outer);
        for (const Contour& hole : region.holes)
            around += length_of(hole);
        const Outline outline{{region}};
        all.push_back({outline, gauss_area(outline), around, c});
    };
    add(l, 5 - pi / 4);
    add(triangle, corners);
    add(disc, pi);
    add(hoop, 0);
    add(window, 4 - 4 * pi / 4);
    return all;
}

TEST(ShapedWalls, LeanByTheDraftOnEveryShapeWhoseVolumeIsKnown) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const Figure& figure : figures())
        for (const double draft : {3.0, 15.0, 40.0})
            for (const Mode mode : relief_modes) {
                SCOPED_TRACE(std::to_string(draft) + " " + std::string(key_of(mode)) + " c " +
                             std::to_string(figure.c));
                const double depth = 0.6, change = leaning(figure.a, figure.p, figure.c, depth, slope(draft));
                const auto made = put(box, on_top(*box, moved(figure.outline, {3, -2}, 27), mode, depth, draft));
                expect_change(box, made, mode == Mode::raise ? change : -change);
                ASSERT_TRUE(made);
                EXPECT_EQ(made->marks[0].route, imprint::Route::direct);
                if (draft == 15) expect_to_survive(made);
            }
}

TEST(ShapedWalls, AreRoundedAtTheFloor) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const Figure& figure : figures())
        for (const double radius : {0.1, 0.3, 0.6}) {
            SCOPED_TRACE(std::to_string(radius) + " c " + std::to_string(figure.c));
            const double depth = 0.6;
            const auto made = put(box, on_top(*box, figure.outline, Mode::engrave, depth, 0, radius));
            expect_change(box, made, -rounded(figure.a, figure.p, figure.c, depth, radius));
            if (radius == 0.3) expect_to_survive(made);
        }
}

TEST(ShapedWalls, LeanAndAreRoundedAtOnce) {
    // A disc: the frustum of a cone and a piece of a torus, by discs of the radius at each height.
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const double depth = 0.8, draft = 12, r = 0.3, angle = draft * std::numbers::pi / 180;
    const double begins = depth - r * (1 - std::sin(angle)), first = slope(draft) * begins;
    const Outline disc{{{circle({0, 0}, 3), {}}}};
    const double area = gauss_area(disc), around = length_of(disc.regions[0].outer), pi = std::numbers::pi;
    double volume = leaning(area, around, pi, begins, slope(draft));
    constexpr int steps = 20'000;
    for (int i = 0; i < steps; ++i) {
        const double phi = angle + (pi / 2 - angle) * (i + 0.5) / steps;
        const double inset = first + r * (std::cos(angle) - std::cos(phi));
        volume += (area - around * inset + pi * inset * inset) * r * std::cos(phi) * (pi / 2 - angle) / steps;
    }
    expect_change(box, put(box, on_top(*box, disc, Mode::engrave, depth, draft, r)), -volume);
    // And one with every kind of corner; the solid says what the outline does.
    for (const int which : {0, 2, 3, 4}) {
        const Outline big = geometry::transformed(letter(which), geometry::Affine::scale(9));
        const auto made = put(box, on_top(*box, moved(big, {-4, -4}), Mode::engrave, 0.5, 10, 0.12));
        ASSERT_TRUE(made) << made.error().message;
        expect_change(box, made, made->marks[0].volume_change_mm3);
    }
}

TEST(ShapedWalls, OfLetteringAreSoundInEveryModeAndRoute) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const Mode mode : {Mode::engrave, Mode::raise, Mode::inlay})
        for (const auto route : routes) {
            SCOPED_TRACE(std::string(key_of(mode)) + (route == routes[0] ? ", direct" : ", general"));
            const Outline outline = lettering(route == routes[0] ? 6 : 3, 30, 20);
            const double rounding = route == routes[0] && mode != Mode::raise ? 0.08 : 0;
            const auto made = put(box, on_top(*box, outline, mode, 0.4, 8, rounding), route);
            ASSERT_TRUE(made) << made.error().message;
            const double change = made->marks[0].volume_change_mm3, plain = gauss_area(outline) * 0.4;
            EXPECT_LT(std::abs(change), plain * 0.99);
            EXPECT_GT(std::abs(change), plain * 0.8);
            expect_change(box, made, change);
            if (mode == Mode::engrave) expect_to_survive(made);
            if (mode == Mode::inlay) {
                EXPECT_NEAR(made->marks[0].filled_mm3, -change, 1e-6 * std::abs(change));
            }
        }
}

TEST(ShapedWalls, GoOverAnEdgeByTheGeneralRoute) {
    // Half of a leaning bar hangs over the edge: what is left is the half inside. A quarter of the frustum's four sides
    // is beyond it.
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape());
    const Outline bar{{{rectangle({26, -2}, {34, 2}), {}}}};
    const double k = slope(10), depth = 0.5;
    for (const Mode mode : {Mode::engrave}) {
        const auto made = put(box, on_top(*box, bar, mode, depth, 10));
        ASSERT_TRUE(made) << made.error().message;
        EXPECT_EQ(made->marks[0].route, imprint::Route::general);
        // Half of the bar: 4 × 4, three sides lean, two corners.
        expect_change(box, made, -leaning(16, 12, 2, depth, k), 1e-5);
    }
}

TEST(ShapedWalls, AreRefusedWhereTheyDoNotFit) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const Outline bar{{{rectangle({-3, -0.25}, {3, 0.25}), {}}}};
    const auto code = [&](const imprint::Footprint& mark) {
        const auto made = put(box, mark);
        return made ? std::string() : made.error().code;
    };
    EXPECT_EQ(code(on_top(*box, bar, Mode::engrave, 1, 15)), "imprint.draft"); // 0.27 mm on each side of 0.5 mm
    EXPECT_EQ(code(on_top(*box, bar, Mode::engrave, 1, 10)), "");
    EXPECT_EQ(code(on_top(*box, bar, Mode::raise, 1, 15)), "imprint.draft");
    EXPECT_EQ(code(on_top(*box, bar, Mode::engrave, 1, 0, 0.3)), "imprint.draft");
    EXPECT_EQ(code(on_top(*box, bar, Mode::raise, 1, 0, 0.3)), "");                   // has no floor to round
    EXPECT_EQ(code(on_top(*box, bar, Mode::engrave, 0.15, 0, 0.2)), "imprint.draft"); // higher than the wall
    EXPECT_EQ(code(on_top(*box, bar, Mode::engrave, 0.1, 75)), "imprint.draft");
    EXPECT_EQ(code(on_top(*box, bar, Mode::engrave, 0.1, -5)), "imprint.draft");
    const part::PartPtr tube = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    for (const part::Face& face : tube->faces()) {
        if (face.kind != part::FaceKind::cylinder) continue;
        imprint::Footprint mark{"mark", *surface::map_face(*tube, face.index), bar, Mode::engrave, Mm(0.5), {}};
        mark.draft = Degrees(5);
        const auto made = put(tube, mark);
        ASSERT_FALSE(made);
        EXPECT_EQ(made.error().code, "imprint.draft");
    }
}

/// Blobs of lines and curves, some with a hole.
Outline any_blob(std::mt19937& random) {
    std::uniform_real_distribution<double> unit(-1, 1);
    const auto blob = [&](double size) {
        const int count = std::uniform_int_distribution<int>(3, 9)(random);
        std::vector<Vec2> corners;
        for (int i = 0; i < count; ++i) {
            const double angle = 2 * std::numbers::pi * (i + 0.3 * unit(random)) / count;
            corners.push_back(Vec2{std::cos(angle), std::sin(angle)} * (size * (1 + 0.25 * unit(random))));
        }
        Contour contour;
        for (std::size_t i = 0; i < corners.size(); ++i) {
            const Vec2 a = corners[i], b = corners[(i + 1) % corners.size()];
            const auto bent = [&](double t) {
                return a + (b - a) * t + Vec2{unit(random), unit(random)} * (distance(a, b) * 0.2);
            };
            const int degree = std::uniform_int_distribution<int>(1, 3)(random);
            contour.segments.push_back(degree == 1   ? Segment::line(a, b)
                                       : degree == 2 ? Segment::quadratic(a, bent(0.5), b)
                                                     : Segment::cubic(a, bent(0.3), bent(0.7), b));
        }
        return contour;
    };
    std::vector<Contour> contours{blob(5)};
    if (unit(random) > 0) contours.push_back(geometry::reversed(blob(1.8)));
    return geometry::outline_from(std::move(contours)).value_or(Outline{});
}

TEST(ShapedWalls, OfAnyShapeAreSoundOrPlainlyRefused) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    std::map<std::string, int> tally;
    for (int i = 0; i < 60; ++i) {
        SCOPED_TRACE(i);
        std::mt19937 random(static_cast<unsigned>(400 + i));
        const Outline outline = any_blob(random);
        if (outline.empty()) continue;
        const auto any = [&](double low, double high) {
            return std::uniform_real_distribution<double>(low, high)(random);
        };
        const Mode mode = i % 3 ? Mode::engrave : Mode::raise;
        const double depth = any(0.2, 1.2);
        const auto made = put(box, on_top(*box, moved(outline, {any(-20, 20), any(-10, 10)}, any(0, 360)), mode, depth,
                                          any(0, 25), i % 2 ? any(0, depth) : 0));
        if (!made) {
            ++tally[made.error().code];
            EXPECT_EQ(made.error().code, "imprint.draft") << made.error().message;
            continue;
        }
        ++tally["made"];
        const Difference is = difference(*box, *made->part, 0);
        const double change = made->marks[0].volume_change_mm3;
        EXPECT_NEAR(is.volume / change, 1, made->marks[0].route == imprint::Route::direct ? 1e-6 : 1e-5);
        EXPECT_TRUE(is.valid);
        EXPECT_TRUE(is.closed);
    }
    EXPECT_GT(tally["made"], 25) << "too few to say anything";
    for (const auto& [what, count] : tally)
        RecordProperty(what, count);
}

} // namespace
} // namespace touchmark::test
