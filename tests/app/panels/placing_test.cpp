// SPDX-License-Identifier: MIT
#include "app/panels/placing.h"

#include "core/surface/face_map.h"
#include "tests/app/session/opened.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

Result<job::Mark> placed_on(const part::Part& part, const plate::Pose& pose) {
    const auto meshes = part::tessellate(part, {}, Progress());
    const auto parts = test::session_parts();
    return place_by_itself(part, *meshes, pose, parts.processes->front());
}

// That a side wall takes a mark best: common practice, no source.
TEST(Placing, TakesASideWallWithRoomWhateverThePose) {
    for (const auto& file : {test::demo_part(), test::open_part("cube-mm.step"), test::open_part("as1-oc-214.stp")}) {
        const part::PartPtr part = test::read_part(file);
        for (const Vec3 down : {Vec3{0, 0, -1}, Vec3{1, 0, 0}, Vec3{0, -1, 0}}) {
            const auto mark = placed_on(*part, {.down = down, .turn = Degrees(0)});
            ASSERT_TRUE(mark) << file;
            const auto& face = part->faces()[static_cast<std::size_t>(mark->anchor.face)];
            EXPECT_EQ(face.kind, part::FaceKind::plane);
            EXPECT_NEAR(dot(face.frame.z, down), 0, 1e-6) << file << ": the face stands upright";
            EXPECT_EQ(mark->anchor.fingerprint, face.fingerprint);
            const auto map = surface::map_face(*part, mark->anchor.face);
            EXPECT_LT(std::get<content::Text>(mark->content).cap_height.value, (*map)->rectangle().y) << file;
        }
    }
}

TEST(Placing, LeavesFacesAloneThatAreKeptClear) {
    const part::PartPtr part = test::read_part(test::demo_part());
    const auto meshes = part::tessellate(*part, {}, Progress());
    const auto parts = test::session_parts();
    const int first = placed_on(*part, {})->anchor.face;
    const job::ClearFace kept{first, {}, job::ClearReason::sealing, {}};
    const auto mark = place_by_itself(*part, *meshes, {}, parts.processes->front(), std::span(&kept, 1));
    ASSERT_TRUE(mark);
    EXPECT_NE(mark->anchor.face, first);
}

TEST(Placing, SaysSoWhenNoFaceIsFlat) {
    const part::PartPtr part = test::read_part(test::open_part("io1-tu-203.stp"));
    const bool any_flat =
        std::ranges::any_of(part->faces(), [](const part::Face& face) { return face.kind == part::FaceKind::plane; });
    const auto mark = placed_on(*part, {});
    EXPECT_EQ(mark.has_value(), any_flat);
    if (!mark) {
        EXPECT_FALSE(mark.error().hint.empty());
    }
}

} // namespace
} // namespace touchmark::panels
