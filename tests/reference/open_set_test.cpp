// SPDX-License-Identifier: MIT
// The main job on parts that nobody here wrote: read, marked on a flat face in both modes, saved, read back by the bare
// OpenCASCADE reader. Sources: the files are of the open set (tests/support/fetch_open_parts); validity and volume are
// BRepCheck's and BRepGProp's on what was read back (how: changed_faces.h); the lettering's area is HarfBuzz's own
// reading of the font (its OpenType parser shares nothing with FreeType, which drew the mark).
#include "core/content/content.h"
#include "core/deliver/step.h"
#include "core/imprint/imprint.h"
#include "tests/reference/changed_faces.h"
#include "tests/support/glyph_area.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"
#include "tests/support/solid_check.h"

#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

namespace touchmark {
namespace {

namespace fs = std::filesystem;

constexpr double depth = 0.5;

struct Case {
    const char* file;
    Mode mode;
};

class OpenSet : public testing::TestWithParam<Case> {};

/// The largest flat faces of solids that hold the mark with half a millimetre to spare.
std::vector<surface::FaceMapPtr> roomy_faces(const part::Part& part, const geometry::Outline& outline,
                                             std::size_t most) {
    std::vector<surface::FaceMapPtr> maps;
    for (const part::Face& face : part.faces()) {
        if (face.kind != part::FaceKind::plane || !part.bodies()[static_cast<std::size_t>(face.body)].solid) continue;
        const auto map = surface::map_face(part, face.index);
        if (map && surface::margin(**map, outline).distance >= 0.5) maps.push_back(*map);
    }
    std::ranges::sort(maps, std::greater(), [](const auto& map) { return map->rectangle().x * map->rectangle().y; });
    if (maps.size() > most) maps.resize(most);
    return maps;
}

int solids_in(const TopoDS_Shape& shape) {
    int solids = 0;
    for (TopExp_Explorer item(shape, TopAbs_SOLID); item.More(); item.Next())
        ++solids;
    return solids;
}

TEST_P(OpenSet, is_marked_saved_and_read_back_whole) {
    const part::PartPtr part = test::read_part(test::open_part(GetParam().file));
    const auto fonts = content::FontLibrary::system();
    ASSERT_TRUE(fonts);
    content::Text text{.text = "TM-48"};
    text.cap_height = Mm(2.5);
    const auto drawn = content::draw(text, **fonts);
    ASSERT_TRUE(drawn) << drawn.error().message;
    // HarfBuzz: the same letters, the same face, scaled by the H's height; their contours do not overlap, so their
    // areas add.
    const double reference_area = test::lettering_area(drawn->face.file, text.text, text.cap_height.value);
    EXPECT_NEAR(geometry::area(drawn->outline), reference_area, 1e-6 * reference_area);

    const auto maps = roomy_faces(*part, drawn->outline, 2);
    ASSERT_FALSE(maps.empty()) << GetParam().file << " has no flat face with room for a mark";
    const TopoDS_Shape original = test::read_bare_shape(test::open_part(GetParam().file));
    int marked_faces = 0;
    for (const auto& map : maps) {
        const imprint::Footprint footprint{.name = "Part number",
                                           .map = map,
                                           .outline = drawn->outline,
                                           .mode = GetParam().mode,
                                           .depth = Mm(depth),
                                           .colour = {}};
        const auto marked = imprint::imprint(part, std::span(&footprint, 1), {}, Progress());
        if (!marked && marked.error().code == "imprint.pokes_through") continue; // a thin wall is refused, rightly
        ASSERT_TRUE(marked) << marked.error().message;
        EXPECT_EQ(marked->marks[0].route, imprint::Route::direct);

        const fs::path out = fs::temp_directory_path() / ("touchmark-open-set-" + std::to_string(::getpid()) + ".step");
        const auto saved = deliver::write_step(*marked->part, out, {}, test::reader(), Progress());
        ASSERT_TRUE(saved) << saved.error().message;
        const TopoDS_Shape read_back = test::read_bare_shape(out);
        fs::remove(out);
        const test::SolidFigures figures = test::figures_of(read_back);
        EXPECT_TRUE(figures.valid);
        EXPECT_TRUE(figures.closed);
        EXPECT_EQ(figures.solids, solids_in(original));
        const double expected = (GetParam().mode == Mode::raise ? 1 : -1) * reference_area * depth;
        EXPECT_NEAR(marked->marks[0].volume_change_mm3, expected, 1e-6 * std::abs(expected));
        const test::ChangedFaces changed = test::changed_faces(original, read_back, map->point({0, 0}));
        EXPECT_NEAR(changed.volume, expected, 1e-6 * std::abs(expected)) << "face " << map->face();
        EXPECT_EQ(changed.gone, 1) << "face " << map->face();
        EXPECT_EQ(changed.made, 1 + marked->marks[0].faces_added);
        ++marked_faces;
    }
    EXPECT_GT(marked_faces, 0);
}

std::vector<Case> cases() {
    std::vector<Case> all;
    for (const char* file : {"as1-oc-214.stp", "as1_pe_203.stp", "io1-cm-214.stp", "sg1-c5-214.stp", "frame.step",
                             "conical-surface.step", "cube-in.step"})
        for (const Mode mode : {Mode::engrave, Mode::raise})
            all.push_back({file, mode});
    return all;
}

std::string case_name(const testing::TestParamInfo<Case>& info) {
    std::string name = std::string(info.param.file) + "_" + std::string(key_of(info.param.mode));
    std::ranges::replace_if(name, [](unsigned char c) { return !std::isalnum(c); }, '_');
    return name;
}

INSTANTIATE_TEST_SUITE_P(RealParts, OpenSet, testing::ValuesIn(cases()), case_name);

} // namespace
} // namespace touchmark
