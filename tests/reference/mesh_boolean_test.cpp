// SPDX-License-Identifier: MIT
// What a mark takes away or adds, against a library that knows nothing of boundary representations: manifold-3d, a
// boolean of triangle meshes, cuts the same outline out of the part's tessellation. The tolerance is the meshes' own,
// see mesh_boolean.h.
#include "tests/reference/mesh_boolean.h"
#include "tests/support/marked.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include "core/part/shape.h"

#include <BRepPrimAPI_MakeCone.hxx>
#include <gtest/gtest.h>

#include <cmath>
#include <map>

namespace touchmark {
namespace {

using part::FaceKind;

constexpr Mode modes[] = {Mode::engrave, Mode::raise, Mode::hidden};

part::PartPtr frustum() {
    part::Model model;
    model.products.push_back({"Frustum", BRepPrimAPI_MakeCone(20, 10, 30).Shape(), {}, {}, {}});
    model.roots.push_back({0, {}, "Frustum", {}});
    return part::make_part(std::move(model), Digest{1, 2}, Progress()).value();
}

struct Ours {
    test::MeshCase mesh;
    double change = 0;
};

/// All modes on the largest face of a kind that takes them.
void add_cases(std::vector<Ours>& all, const std::string& name, const part::PartPtr& part, FaceKind kind) {
    for (const Mode mode : modes)
        for (const int face : test::roomy_faces(*part, kind, 4)) {
            const auto mark = test::mark_for(*part, face, "B8i", mode);
            if (!mark) continue;
            const auto made = imprint::imprint(part, std::span(&*mark, 1), {}, Progress());
            if (!made) continue; // too thin there, for instance
            Ours one;
            one.mesh.name = name + " " + std::string(part::key_of(kind)) + " " + std::string(key_of(mode));
            one.mesh.part = part;
            one.mesh.mark = *mark;
            one.change = made->marks[0].volume_change_mm3;
            EXPECT_NEAR(made->part->volume_mm3() - part->volume_mm3(), one.change, 1e-3 * std::abs(one.change))
                << one.mesh.name;
            all.push_back(std::move(one));
            break;
        }
}

TEST(MeshBoolean, TakesAwayAndAddsWhatOursDoes) {
    std::vector<Ours> all;
    for (const char* file : {"as1-oc-214.stp", "io1-cm-214.stp", "sg1-c5-214.stp", "step_boundary_colors.stp",
                             "cube-in.step", "JST_SH_SM04B-SRSS-TB.STEP"}) {
        const part::PartPtr part = test::read_part(test::open_part(file));
        add_cases(all, file, part, FaceKind::plane);
        add_cases(all, file, part, FaceKind::cylinder);
    }
    add_cases(all, "conical-surface.step", test::read_part(test::open_part("conical-surface.step")), FaceKind::cone);
    add_cases(all, "frustum", frustum(), FaceKind::cone);
    std::vector<test::MeshCase> cases;
    for (const Ours& one : all)
        cases.push_back(one.mesh);
    const std::vector<test::MeshResult> theirs = test::mesh_booleans(cases);
    std::map<FaceKind, int> compared;
    for (std::size_t i = 0; i < all.size(); ++i) {
        SCOPED_TRACE(cases[i].name);
        if (theirs[i].status == "Not manifold") continue; // the part's own mesh has gaps
        ASSERT_EQ(theirs[i].status, "NoError");
        const double tolerance = test::mesh_tolerance(cases[i]);
        EXPECT_NEAR(all[i].change, theirs[i].change, tolerance);
        EXPECT_LT(tolerance, 0.05 * std::abs(all[i].change)) << "too wide to tell";
        ++compared[cases[i].mark.map->kind()];
        std::printf("%-45s ours %.6f mm3, mesh %.6f, off %.2e, tolerance %.2e\n", cases[i].name.c_str(), all[i].change,
                    theirs[i].change, std::abs(all[i].change - theirs[i].change), tolerance);
    }
    EXPECT_GE(compared[FaceKind::plane], 10);
    EXPECT_GE(compared[FaceKind::cylinder], 6);
    EXPECT_GE(compared[FaceKind::cone], 3);
    EXPECT_GE(compared[FaceKind::plane] + compared[FaceKind::cylinder] + compared[FaceKind::cone], 20);
}

} // namespace
} // namespace touchmark
