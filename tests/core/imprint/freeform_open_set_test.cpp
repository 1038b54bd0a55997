// SPDX-License-Identifier: MIT
#include "core/surface/chart.h"
#include "tests/core/imprint/pocket.h"
#include "tests/core/imprint/round_trip.h"
#include "tests/core/imprint/shapes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <iostream>
#include <map>

namespace touchmark::test {
namespace {

/// Local maps about the middle of faces that cannot be rolled out, the largest first.
std::vector<surface::FaceMapPtr> roomy_maps(const part::Part& part, Vec2 wanted, std::size_t most) {
    std::vector<const part::Face*> faces;
    for (const part::Face& face : part.faces())
        if (surface::is_laid_about_its_anchor(face.kind) && part.bodies()[static_cast<std::size_t>(face.body)].solid &&
            face.area_mm2 > wanted.x * wanted.y)
            faces.push_back(&face);
    std::ranges::sort(faces, [](auto* a, auto* b) { return a->area_mm2 > b->area_mm2; });
    std::vector<surface::FaceMapPtr> maps;
    for (const part::Face* face : faces) {
        if (maps.size() == most) break;
        const auto whole = surface::map_face(part, face->index);
        if (!whole || (*whole)->rectangle().x < wanted.x || (*whole)->rectangle().y < wanted.y) continue;
        const Vec2 off_seam{0.37, 0.21}; // the middle of a face that runs round may lie on its seam
        maps.push_back((*whole)->about(off_seam, Laying::wrap));
    }
    return maps;
}

struct Tally {
    int faces = 0, direct = 0, general = 0;
    std::map<std::string, int> refused;
};

void try_mark(const part::PartPtr& part, const imprint::Footprint& mark, imprint::RouteChoice route, Tally& tally,
              bool read_back) {
    imprint::Options options;
    options.route = route;
    const auto marked = imprint::imprint(part, std::span(&mark, 1), options, Progress());
    if (!marked) {
        ++tally.refused[marked.error().code];
        EXPECT_NE(marked.error().code, "imprint.failed") << mark.map->face() << ": " << marked.error().message;
        return;
    }
    const int body = part->faces()[static_cast<std::size_t>(mark.map->face())].body;
    const Difference is = difference(*part, *marked->part, body);
    EXPECT_TRUE(is.valid) << "face " << mark.map->face() << " " << key_of(mark.mode);
    EXPECT_TRUE(is.closed) << "face " << mark.map->face() << " " << key_of(mark.mode);
    EXPECT_EQ(is.more_solids, 0) << "face " << mark.map->face() << " " << key_of(mark.mode);
    const int regions = static_cast<int>(mark.outline.regions.size());
    EXPECT_EQ(is.more_shells, mark.mode == Mode::hidden ? regions : 0) << "face " << mark.map->face();
    const double change = marked->marks[0].volume_change_mm3;
    const bool direct = marked->marks[0].route == imprint::Route::direct;
    const bool in_one_face = direct && (mark.mode == Mode::engrave || mark.mode == Mode::raise);
    if (in_one_face) {
        EXPECT_NEAR(std::abs(pocket_volume(*marked->part, body) / change), 1, 1e-6) << "face " << mark.map->face();
    }
    ++(direct ? tally.direct : tally.general);
    if (!read_back) return;
    const auto [back, appended] = round_trip(part, *marked->part);
    ASSERT_TRUE(back);
    const Vec3 about = mark.map->point(mark.map->chart()->anchorage().at);
    const double was = volume_over_mark(*marked->part, body, about), now = volume_over_mark(*back, body, about, "mark");
    EXPECT_NEAR((now - was) / change, 0, direct ? 1e-6 : 1e-5)
        << "face " << mark.map->face() << " " << key_of(mark.mode) << (direct ? " direct" : " general")
        << (appended ? " appended" : " written whole") << ", read back";
}

class FreeformFile : public testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(OpenSet, FreeformFile,
                         testing::Values("dm1-id-214.stp", "io1-tu-203.stp", "component8.step", "frame.step",
                                         "Motor-c.brep", "sg1-c5-214.stp", "bottle.brep"),
                         [](const auto& file) {
                             std::string name;
                             for (const char c : std::string(file.param))
                                 name += std::isalnum(static_cast<unsigned char>(c)) ? c : '_';
                             return name;
                         });

TEST_P(FreeformFile, TakesMarksOnFacesThatCannotBeRolledOut) {
    const part::PartPtr part = open_any(GetParam());
    Tally tally;
    for (const surface::FaceMapPtr& map : roomy_maps(*part, {4, 2}, long_run() ? 30 : 4)) {
        ++tally.faces;
        const geometry::Outline outline = moved(lettering(3, 3.4, 1.7), map->chart()->anchorage().at);
        for (const Mode mode : modes) {
            const bool quick = mode == Mode::engrave || mode == Mode::raise;
            if (!quick && !long_run()) continue;
            const geometry::Outline own = mode == Mode::through ? without_counters(outline) : outline;
            const imprint::Footprint mark{"mark", map, own, mode, Mm(0.2), {}, Mm(0.2)};
            const bool first = tally.faces == 1 && mode == Mode::engrave;
            try_mark(part, mark, imprint::RouteChoice::automatic, tally, first || long_run());
            if (long_run()) try_mark(part, mark, imprint::RouteChoice::general, tally, true);
        }
    }
    RecordProperty("faces", tally.faces);
    RecordProperty("direct", tally.direct);
    RecordProperty("general", tally.general);
    for (const auto& [code, count] : tally.refused)
        RecordProperty(code, count);
    if (long_run())
        std::cout << tally.faces << " faces, " << tally.direct << " direct, " << tally.general << " general"
                  << std::endl;
    EXPECT_TRUE(tally.faces == 0 || tally.direct + tally.general > 0);
}

} // namespace
} // namespace touchmark::test
