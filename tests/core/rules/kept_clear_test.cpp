// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using job::ClearReason;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const Vec3 wall{0, -1, 0};

Scene with(ClearReason reason, Vec3 face, std::string note = {}) {
    Scene scene;
    scene.add_letter(1.5);
    scene.job = job::keep_clear(scene.job, {scene.face_towards(face), {}, reason, std::move(note)}).value();
    return scene;
}

TEST(KeptClear, BlocksAMarkOnASealAndWarnsOfOneInALoadedFace) {
    for (const ClearReason reason : {ClearReason::sealing, ClearReason::mating, ClearReason::other})
        EXPECT_THAT(with(reason, wall).findings("kept_clear"), ElementsAre(Blocks()));
    EXPECT_THAT(with(ClearReason::load_bearing, wall).findings("kept_clear"), ElementsAre(Warns()));
    EXPECT_THAT(with(ClearReason::sealing, {0, 0, 1}).findings("kept_clear"), IsEmpty()) << "another face";
}

TEST(KeptClear, NamesTheReasonAndLeavesTheDecisionToTheEngineer) {
    const Scene scene = with(ClearReason::sealing, wall, "O-ring 32 × 2");
    const auto finding = scene.findings("kept_clear").at(0);
    EXPECT_THAT(finding.message, AllOf(HasSubstr("The mark lies on a sealing face (O-ring 32 × 2)."),
                                       HasSubstr("for the engineer responsible for it to say")));
}

TEST(KeptClear, MovesToAFaceThatIsNotKeptClear) {
    Scene scene = with(ClearReason::mating, wall);
    const auto offered = [&] {
        const auto finding = scene.findings("kept_clear").at(0);
        const rules::Fix* fix = fix_of(finding, "side_wall_face");
        return fix ? fix->edit(scene.job).value().marks[0].anchor.face : -1;
    };
    const int first = offered();
    ASSERT_GE(first, 0);
    EXPECT_NE(first, scene.face_towards(wall));
    expect_complete_and_helpful(scene, scene.findings("kept_clear").at(0));
    scene.job = job::keep_clear(scene.job, {first, {}, ClearReason::sealing, {}}).value();
    EXPECT_NE(offered(), first);
}

/// A letter of 10 × 5 mm whose right edge is this far from the right end of the top of the front wall, where it meets
/// the face to that side.
Scene beside(double apart) {
    Scene scene;
    Invented letter;
    letter.strokes = {narrow(1.5)};
    letter.pieces = {{"R", 0, 1, {}}};
    const int face = scene.face_towards(wall);
    const surface::FaceMapPtr map = surface::map_face(*scene.part, face).value();
    const Box2 room = geometry::bounds(map->room());
    scene.add(letter, face, {room.low.x + 5 + apart, 0});
    return scene;
}

// Assumed: two lines, 0.84 mm, stay between. The distance is that to the edge where the faces meet, measured apart by
// the face's own margin.
TEST(KeptClear, LooksAtFacesNextToIt) {
    for (const auto& [apart, speaks] : {std::pair(0.8, true), std::pair(0.9, false)}) {
        Scene scene = beside(apart);
        const rules::MarkView view = scene.view(scene.job, 0, rules::Need::wall);
        ASSERT_NEAR(view.margin.distance, apart, 1e-6);
        const Vec3 edge = view.map->point(view.margin.on_edge);
        int next = -1; // the face that shares that point
        for (const part::Face& face : scene.part->faces()) {
            const Box3& box = face.box;
            constexpr double hair = 1e-4;
            if (face.index != view.map->face() && edge.x > box.low.x - hair && edge.x < box.high.x + hair &&
                edge.y > box.low.y - hair && edge.y < box.high.y + hair && edge.z > box.low.z - hair &&
                edge.z < box.high.z + hair)
                next = face.index;
        }
        ASSERT_GE(next, 0);
        scene.job = job::keep_clear(scene.job, {next, {}, ClearReason::sealing, {}}).value();
        const auto findings = scene.findings("kept_clear");
        ASSERT_EQ(findings.size(), speaks ? 1u : 0u) << apart;
        if (!speaks) continue;
        EXPECT_THAT(findings, ElementsAre(Warns()));
        EXPECT_NEAR(findings[0].figure, apart, 0.02);
        EXPECT_THAT(findings[0].message, HasSubstr("of a sealing face"));
        EXPECT_NE(fix_of(findings[0], "move_inward"), nullptr);
        expect_complete_and_helpful(scene, findings[0]);
    }
}

} // namespace
} // namespace touchmark::test
