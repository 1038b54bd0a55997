// SPDX-License-Identifier: MIT
#include "core/surface/unrolling.h"
#include "tests/core/imprint/pocket.h"
#include "tests/core/imprint/round_trip.h"
#include "tests/core/imprint/shapes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>
#include <string_view>

namespace touchmark::test {
namespace {

enum class Shape { flat, round };

bool is(const part::Face& face, Shape shape) {
    if (shape == Shape::flat) return face.kind == part::FaceKind::plane;
    return face.kind == part::FaceKind::cylinder || face.kind == part::FaceKind::cone;
}

/// Faces of solids with room for `wanted`, the largest first.
std::vector<surface::FaceMapPtr> roomy_faces(const part::Part& part, Shape shape, Vec2 wanted, std::size_t most) {
    std::vector<const part::Face*> faces;
    for (const part::Face& face : part.faces())
        if (is(face, shape) && part.bodies()[static_cast<std::size_t>(face.body)].solid) faces.push_back(&face);
    std::sort(faces.begin(), faces.end(), [](auto* a, auto* b) { return a->area_mm2 > b->area_mm2; });
    std::vector<surface::FaceMapPtr> maps;
    for (const part::Face* face : faces) {
        if (maps.size() == most) break;
        auto map = surface::map_face(part, face->index);
        EXPECT_TRUE(map) << face->index << ": " << map.error().message;
        if (map && (*map)->rectangle().x >= wanted.x && (*map)->rectangle().y >= wanted.y) maps.push_back(*map);
    }
    return maps;
}

/// How many faces a file and a shape to try; all of them in a long run.
std::size_t most_faces(std::size_t quick) {
    return long_run() ? 30 : quick;
}

struct Tally {
    int made = 0, too_thin = 0, blocked = 0;
    int unsure = 0; ///< of those made, off by no more than the loose edges of the face in the file explain
};

/// 1e-7 of the largest face of the body, over the depth, in terms of the volume.
double far_noise(const part::Part& part, const imprint::Footprint& mark, double volume) {
    double largest = 0;
    for (const part::Face& face : part.faces())
        largest = std::max(largest, face.area_mm2);
    return 1e-7 * largest / gauss_area(mark.outline) * (volume != 0 ? 1 : 0);
}

/// On a cylinder or cone that the file stores as something else.
bool is_spline(const imprint::Footprint& mark) {
    return mark.map->unrolling() && mark.map->unrolling()->recognised;
}

bool crosses_a_seam(const imprint::Footprint& mark) {
    if (!mark.map->unrolling()) return false;
    const Box2 box = geometry::bounds(mark.outline);
    const surface::Unrolling& round = *mark.map->unrolling();
    return round.closed && std::abs(round.parameters(box.centre()).x - round.centre.x) > 1;
}

/// Makes the mark and holds the result against what is known of it without the code under test.
void try_mark(const part::PartPtr& part, const imprint::Footprint& mark, Tally& tally,
              imprint::RouteChoice route = imprint::RouteChoice::automatic) {
    imprint::Options options;
    options.route = route;
    const auto marked = imprint::imprint(part, std::span(&mark, 1), options, Progress());
    const std::string code = marked ? "" : marked.error().code;
    if (code == "imprint.pokes_through" || code == "imprint.depth") {
        ++tally.too_thin;
        return;
    }
    if (code == "imprint.blocked" || code == "imprint.outside" || code == "imprint.loose") {
        ++tally.blocked;
        return;
    }
    ASSERT_TRUE(marked) << "face " << mark.map->face() << ": " << marked.error().message;
    // Between parallel surfaces of a cylinder lies A (b − a) + A (b² − a²) / 2R; on a cone, and where the far side
    // decides, it depends on the place.
    const double depth = mark.depth.value, cover = mark.mode == Mode::hidden ? mark.cover.value : 0;
    const double low = mark.mode == Mode::raise ? 0 : -cover - depth, high = mark.mode == Mode::raise ? depth : -cover;
    double expected = gauss_area(mark.outline) * (high - low) * (mark.mode == Mode::raise ? 1 : -1);
    if (const auto* round = mark.map->unrolling()) expected *= 1 + (low + high) * round->outward / (2 * round->radius);
    if (mark.map->kind() == part::FaceKind::cone || mark.mode == Mode::through)
        expected = marked->marks[0].volume_change_mm3;
    const Difference is =
        difference(*part, *marked->part, part->faces()[static_cast<std::size_t>(mark.map->face())].body);
    const bool direct = marked->marks[0].route == imprint::Route::direct;
    double tolerance = direct ? 1e-6 : 1e-5;
    // A flat far side that the file stores as a spline is a plane now, bounded by its edges and no longer by their
    // curves in the spline's parameters; the two differ by some 1e-7 of its area.
    if (direct && mark.mode == Mode::through) tolerance = std::max(tolerance, far_noise(*part, mark, expected));
    double volume = is.volume;
    if (is_spline(mark)) {
        // OpenCASCADE integrates over what is left of a spline to some 1e-6 of that face; over the mark alone, where it
        // does not lie across a seam, it is far better.
        if (crosses_a_seam(mark))
            tolerance = 5e-5;
        else if (mark.mode != Mode::hidden && mark.mode != Mode::through)
            volume = pocket_volume(*marked->part, part->faces()[static_cast<std::size_t>(mark.map->face())].body);
    }
    if (const double off = std::abs(volume / expected - 1); !direct && off > tolerance) {
        tolerance = std::max(tolerance, is.unsure / std::abs(expected));
        if (off <= tolerance) ++tally.unsure;
    }
    EXPECT_NEAR(volume / expected, 1, tolerance)
        << "face " << mark.map->face() << " " << key_of(mark.mode) << " " << is.volume;
    EXPECT_NEAR(marked->marks[0].volume_change_mm3 / expected, 1, direct ? 1e-9 : tolerance)
        << "face " << mark.map->face();
    EXPECT_TRUE(is.valid) << "face " << mark.map->face() << " " << key_of(mark.mode);
    EXPECT_TRUE(is.closed) << "face " << mark.map->face() << " " << key_of(mark.mode);
    EXPECT_EQ(is.more_solids, 0);
    const int regions = static_cast<int>(mark.outline.regions.size());
    EXPECT_EQ(is.more_shells, mark.mode == Mode::hidden ? regions : 0);
    EXPECT_EQ(marked->part->bodies().size(),
              part->bodies().size() + (mark.mode == Mode::inlay ? mark.outline.regions.size() : 0));
    ++tally.made;
    if (!long_run()) return;
    const RoundTrip saved = round_trip(part, *marked->part);
    ASSERT_TRUE(saved.part);
    const int body = part->faces()[static_cast<std::size_t>(mark.map->face())].body;
    const Vec3 about = mark.map->point(geometry::bounds(mark.outline).centre());
    const double was = volume_over_mark(*marked->part, body, about),
                 now = volume_over_mark(*saved.part, body, about, "mark");
    EXPECT_NEAR((now - was) / expected, 0, tolerance)
        << "face " << mark.map->face() << " " << key_of(mark.mode) << (direct ? " direct" : " general")
        << (saved.appended ? " appended" : " written whole") << ", read back";
}

/// A long run says so at once, for it may be broken off.
void record(const Tally& tally, const std::string& what = {}) {
    testing::Test::RecordProperty(what + "made", tally.made);
    testing::Test::RecordProperty(what + "refused", tally.too_thin + tally.blocked);
    if (long_run())
        std::cout << what << "made " << tally.made << " (" << tally.unsure << " off on loose faces), refused "
                  << tally.too_thin << " too thin, " << tally.blocked << " blocked" << std::endl;
}

/// Without counters where they would fall out.
geometry::Outline for_mode(const geometry::Outline& outline, Mode mode) {
    return mode == Mode::through ? without_counters(outline) : outline;
}

std::string name_of(const testing::TestParamInfo<const char*>& file) {
    std::string name;
    for (const char c : std::string(file.param))
        name += std::isalnum(static_cast<unsigned char>(c)) ? c : '_';
    return name;
}

class EveryFile : public testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(OpenSet, EveryFile,
                         testing::Values("as1-oc-214.stp", "as1_pe_203.stp", "component8.step", "conical-surface.step",
                                         "cube-in.step", "cube-mm.step", "dm1-id-214.stp", "frame.step",
                                         "io1-cm-214.stp", "io1-tu-203.stp", "screw.step", "sg1-c5-214.stp",
                                         "step_boundary_colors.stp", "Bottom.brep", "Top.brep", "bottle.brep",
                                         "Motor-c.brep"),
                         name_of);

/// A boolean, and its check, takes seconds on a large part: those in a long run alone.
std::vector<const char*> files_for_booleans() {
    std::vector<const char*> files{"component8.step", "conical-surface.step", "dm1-id-214.stp",
                                   "io1-tu-203.stp",  "screw.step",           "bottle.brep"};
    if (long_run())
        files.insert(files.end(), {"as1-oc-214.stp", "as1_pe_203.stp", "cube-in.step", "cube-mm.step", "frame.step",
                                   "io1-cm-214.stp", "sg1-c5-214.stp", "step_boundary_colors.stp", "Bottom.brep",
                                   "Top.brep", "Motor-c.brep"});
    return files;
}
class BooleanFile : public testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(OpenSet, BooleanFile, testing::ValuesIn(files_for_booleans()), name_of);

TEST_P(EveryFile, TakesMarksOnItsFlatFacesInEveryMode) {
    const part::PartPtr part = open_any(GetParam());
    const geometry::Outline outline = lettering(8, 9.8, 4.8);
    Tally tally, through;
    for (const surface::FaceMapPtr& map : roomy_faces(*part, Shape::flat, {10, 5}, most_faces(3)))
        for (const Mode mode : modes)
            try_mark(part, {"mark", map, for_mode(outline, mode), mode, Mm(0.3), {}, Mm(0.2)},
                     mode == Mode::through ? through : tally);
    const bool all_round = part->faces().size() < 30 || std::string_view(GetParam()) == "dm1-id-214.stp";
    EXPECT_TRUE(tally.made > 0 || all_round) << "no mark was made on " << GetParam();
    EXPECT_LT(tally.too_thin + tally.blocked, tally.made + 1);
    record(tally);
    record(through, "through_");
}

TEST(OpenSet, AnOpeningThroughTheWallLeavesNoScarsInOtherFaces) {
    const part::PartPtr part = open_any("Bottom.brep");
    const surface::FaceMapPtr map = surface::map_face(*part, 0).value();
    Tally tally;
    try_mark(part, {"mark", map, without_counters(lettering(8, 9.8, 4.8)), Mode::through, Mm(0.3), {}}, tally);
    EXPECT_EQ(tally.made, 1);
}

TEST_P(EveryFile, TakesMarksOnItsRoundFacesInEveryMode) {
    const part::PartPtr part = open_any(GetParam());
    const geometry::Outline outline = lettering(8, 9.8, 4.8);
    Tally tally;
    for (const surface::FaceMapPtr& map : roomy_faces(*part, Shape::round, {10, 5}, most_faces(2)))
        for (const Mode mode : modes) {
            // Through a round wall goes the boolean, which takes seconds on a large part.
            const bool slow = part->faces().size() > 100 || map->unrolling()->recognised;
            if (mode == Mode::through && slow && most_faces(0) == 0) continue;
            try_mark(part, {"mark", map, for_mode(outline, mode), mode, Mm(0.3), {}, Mm(0.2)}, tally);
            // Across the seam, half a turn from the middle.
            const surface::Unrolling& round = *map->unrolling();
            if (!round.closed) continue;
            const Vec2 at = round.turned({}, 1) * 0.5 - round.turned({}, 0) * 0.5;
            if (mode == Mode::engrave && map->kind() == part::FaceKind::cylinder)
                try_mark(part, {"mark", map, moved(outline, at + Vec2{0.37, 0.11}), mode, Mm(0.3), {}}, tally);
        }
    record(tally);
}

TEST_P(BooleanFile, TakesMarksByTheGeneralRouteWhereItIsForced) {
    const part::PartPtr part = open_any(GetParam());
    const geometry::Outline outline = lettering(3, 9.8, 4.8);
    Tally tally;
    for (const Shape shape : {Shape::flat, Shape::round})
        for (const surface::FaceMapPtr& map : roomy_faces(*part, shape, {10, 5}, most_faces(1)))
            for (const Mode mode : modes)
                try_mark(part, {"mark", map, for_mode(outline, mode), mode, Mm(0.3), {}, Mm(0.2)}, tally,
                         imprint::RouteChoice::general);
    record(tally);
}

} // namespace
} // namespace touchmark::test
