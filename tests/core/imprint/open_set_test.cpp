// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string_view>

namespace touchmark::test {
namespace {

/// Flat faces of solids with room for `wanted`, the largest first.
std::vector<surface::FaceMapPtr> roomy_faces(const part::Part& part, Vec2 wanted, std::size_t most) {
    std::vector<const part::Face*> flat;
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::plane && part.bodies()[static_cast<std::size_t>(face.body)].solid)
            flat.push_back(&face);
    std::sort(flat.begin(), flat.end(), [](auto* a, auto* b) { return a->area_mm2 > b->area_mm2; });
    std::vector<surface::FaceMapPtr> maps;
    for (const part::Face* face : flat) {
        if (maps.size() == most) break;
        auto map = surface::map_face(part, face->index);
        EXPECT_TRUE(map) << map.error().message;
        if (map && (*map)->rectangle().x >= wanted.x && (*map)->rectangle().y >= wanted.y) maps.push_back(*map);
    }
    return maps;
}

class EveryFile : public testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(OpenSet, EveryFile,
                         testing::Values("as1-oc-214.stp", "as1_pe_203.stp", "component8.step", "conical-surface.step",
                                         "cube-in.step", "cube-mm.step", "dm1-id-214.stp", "frame.step",
                                         "io1-cm-214.stp", "io1-tu-203.stp", "screw.step", "sg1-c5-214.stp",
                                         "step_boundary_colors.stp", "Bottom.brep", "Top.brep", "bottle.brep",
                                         "Motor-c.brep"),
                         [](const auto& file) {
                             std::string name;
                             for (const char c : std::string(file.param))
                                 name += std::isalnum(static_cast<unsigned char>(c)) ? c : '_';
                             return name;
                         });

TEST_P(EveryFile, TakesMarksOnItsFlatFacesInBothModes) {
    const part::PartPtr part = open_any(GetParam());
    const geometry::Outline outline = lettering(8, 9.8, 4.8);
    const double area = gauss_area(outline);
    int made = 0, too_thin = 0, blocked = 0;
    for (const surface::FaceMapPtr& map : roomy_faces(*part, {10, 5}, 8))
        for (const Mode mode : modes) {
            imprint::Footprint mark{"mark", map, outline, mode, Mm(0.3), {}};
            const auto marked = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
            if (!marked && marked.error().code == "imprint.pokes_through") {
                ++too_thin;
                continue;
            }
            if (!marked && marked.error().code == "imprint.blocked") {
                ++blocked;
                continue;
            }
            ASSERT_TRUE(marked) << "face " << map->face() << ": " << marked.error().message;
            const double expected = area * 0.3 * (mode == Mode::engrave ? -1 : 1);
            const int body = part->faces()[static_cast<std::size_t>(map->face())].body;
            const Difference is = difference(*part, *marked->part, body);
            EXPECT_NEAR(is.volume / expected, 1, 1e-6) << "face " << map->face();
            EXPECT_NEAR(marked->marks[0].volume_change_mm3 / expected, 1, 1e-9);
            EXPECT_TRUE(is.valid) << "face " << map->face();
            EXPECT_TRUE(is.closed) << "face " << map->face();
            EXPECT_TRUE(is.same_counts);
            EXPECT_EQ(marked->part->bodies().size(), part->bodies().size());
            ++made;
        }
    const bool all_round = part->faces().size() < 30 || std::string_view(GetParam()) == "dm1-id-214.stp";
    EXPECT_TRUE(made > 0 || all_round) << "no mark was made on " << GetParam();
    EXPECT_LT(too_thin + blocked, made + 1);
    RecordProperty("made", made);
    RecordProperty("too_thin", too_thin);
}

} // namespace
} // namespace touchmark::test
