// SPDX-License-Identifier: MIT
// Marked copies of parts that nobody here wrote, made by adding the marks to the unmarked part's text. What they are is
// said by OpenCASCADE's own reader, which reads each of them back whole (counts, validity, closed shells, volume,
// names, colours), and by a reading of ISO 10303-21's grammar.
#include "core/base/atomic_file.h"
#include "core/deliver/step.h"
#include "core/deliver/step_verify.h"
#include "tests/core/deliver/description.h"
#include "tests/core/deliver/part21.h"
#include "tests/support/marked.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::deliver {
namespace {

struct Case {
    const char* file;
    part::FaceKind kind;
    Mode mode;
    imprint::RouteChoice route = imprint::RouteChoice::automatic;
};

std::string name_of(const testing::TestParamInfo<Case>& info) {
    const Case& c = info.param;
    std::string name = std::string(c.file) + "_" + std::string(part::key_of(c.kind)) + "_" +
                       std::string(touchmark::key_of(c.mode)) +
                       (c.route == imprint::RouteChoice::general ? "_general" : "");
    std::ranges::replace_if(name, [](unsigned char letter) { return std::isalnum(letter) == 0; }, '_');
    return name;
}

void expect_same_faces(const part::Part& meant, const part::Part& back) {
    ASSERT_EQ(back.faces().size(), meant.faces().size());
    // OpenCASCADE's reader keeps the order of a shell's faces.
    for (std::size_t i = 0; i < meant.faces().size(); ++i) {
        const part::Face &a = meant.faces()[i], &b = back.faces()[i];
        EXPECT_EQ(b.name, a.mark.empty() ? a.name : a.mark) << i;
        EXPECT_EQ(b.colour.has_value(), a.colour.has_value()) << i;
        EXPECT_NEAR(distance(a.centroid, b.centroid), 0, 1e-2) << i;
        if (!a.colour || !b.colour) continue;
        EXPECT_NEAR(b.colour->red, a.colour->red, 2e-3) << i;
        EXPECT_NEAR(b.colour->green, a.colour->green, 2e-3) << i;
        EXPECT_NEAR(b.colour->blue, a.colour->blue, 2e-3) << i;
    }
}

/// Without the names of solids: a solid that is no longer alone in its product shows the name that it has beside the
/// product's.
std::vector<std::string> structure(const part::Part& part) {
    std::vector<std::string> lines = test::description(part);
    const std::string solid = "kind " + std::to_string(TopAbs_SOLID) + ' ';
    std::erase_if(lines, [&](const std::string& line) { return line.find(solid) != std::string::npos; });
    return lines;
}

class AppendedOpenSet : public testing::TestWithParam<Case> {};

TEST_P(AppendedOpenSet, ReadsBackWholeAsItWasMeant) {
    const Case& c = GetParam();
    const test::ScratchFolder folder;
    const part::PartPtr part = test::read_part(test::open_part(c.file));
    int tried = 0;
    for (const int face : test::roomy_faces(*part, c.kind, 3)) {
        auto mark = test::mark_for(*part, face, c.mode == Mode::through ? "1" : "8i", c.mode);
        if (!mark) continue;
        mark->colour = part::Colour{0.2f, 0.4f, 0.6f};
        const auto made = imprint::imprint(part, std::span(&*mark, 1), {.route = c.route}, Progress());
        if (!made) continue; // refused, rightly or not: not the matter here
        const part::Part& marked = *made->part;
        StepOptions options{.unmarked = part, .store = std::make_shared<StepStore>()};
        const auto report = write_step(marked, folder / "appended.step", options, test::reader(), Progress());
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_EQ(report->route, StepRoute::appended) << "face " << face << ": " << report->reason;
        EXPECT_NO_THROW(test::Part21(*read_text(folder / "appended.step")));

        const part::PartPtr back = test::read_part(folder / "appended.step");
        const Status same = same_part(marked, *back, {});
        EXPECT_TRUE(same) << same.error().message;
        expect_same_faces(marked, *back);
        EXPECT_EQ(report->faces, static_cast<int>(back->faces().size()));
        EXPECT_EQ(report->solids, std::ranges::count_if(back->bodies(), &part::Body::solid));
        EXPECT_NEAR(report->volume_mm3, back->volume_mm3(), std::max(1e-6, 1e-6 * back->volume_mm3()));

        const auto wanted = structure(marked), found = structure(*back);
        ASSERT_EQ(found.size(), wanted.size());
        for (std::size_t i = 0; i < wanted.size(); ++i)
            EXPECT_TRUE(test::same_but_for_missing_names(wanted[i], found[i])) << wanted[i] << "\n" << found[i];
        ++tried;
        break;
    }
    EXPECT_GT(tried, 0) << "no face had room";
}

using part::FaceKind;
INSTANTIATE_TEST_SUITE_P(
    RealParts, AppendedOpenSet,
    testing::Values(
        Case{"as1-oc-214.stp", FaceKind::plane, Mode::engrave},
        Case{"as1_pe_203.stp", FaceKind::plane, Mode::raise}, // inch
        Case{"io1-cm-214.stp", FaceKind::plane, Mode::engrave},
        Case{"io1-cm-214.stp", FaceKind::cylinder, Mode::engrave},
        Case{"sg1-c5-214.stp", FaceKind::cylinder, Mode::raise},
        Case{"conical-surface.step", FaceKind::cone, Mode::raise}, Case{"cube-in.step", FaceKind::plane, Mode::engrave},
        Case{"cube-m.step", FaceKind::plane, Mode::raise},
        Case{"step_boundary_colors.stp", FaceKind::plane, Mode::engrave},
        Case{"screw.step", FaceKind::plane, Mode::engrave}, Case{"dm1-id-214.stp", FaceKind::plane, Mode::engrave},
        Case{"component8.step", FaceKind::plane, Mode::engrave},
        // Stored as B-splines.
        Case{"as1-oc-214.stp", FaceKind::cylinder, Mode::engrave},
        Case{"io1-tu-203.stp", FaceKind::cylinder, Mode::raise}, Case{"io1-tu-203.stp", FaceKind::cone, Mode::engrave},
        Case{"component8.step", FaceKind::cone, Mode::inlay}, Case{"as1-oc-214.stp", FaceKind::cylinder, Mode::hidden},
        Case{"JST_SH_SM04B-SRSS-TB.STEP", FaceKind::plane, Mode::engrave},
        Case{"as1-oc-214.stp", FaceKind::plane, Mode::hidden}, Case{"io1-cm-214.stp", FaceKind::cylinder, Mode::hidden},
        Case{"as1-oc-214.stp", FaceKind::plane, Mode::inlay},
        Case{"step_boundary_colors.stp", FaceKind::plane, Mode::inlay},
        Case{"io1-cm-214.stp", FaceKind::cylinder, Mode::inlay}, Case{"as1-oc-214.stp", FaceKind::plane, Mode::through},
        Case{"sg1-c5-214.stp", FaceKind::plane, Mode::engrave, imprint::RouteChoice::general}),
    name_of);

} // namespace
} // namespace touchmark::deliver
