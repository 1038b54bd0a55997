// SPDX-License-Identifier: MIT
#include "core/part/shape.h"
#include "tests/core/job/random_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <gp_Ax2.hxx>

namespace touchmark::job {
namespace {

part::PartPtr part_of(const TopoDS_Shape& shape) {
    part::Model model;
    model.products.emplace_back();
    model.products.front().shape = shape;
    model.roots.emplace_back();
    auto part = part::make_part(std::move(model), Digest{1, 2}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

Job job_on(const part::Part& part) {
    Job job;
    for (const part::Face& face : part.faces()) {
        Mark mark;
        mark.content = content::Text{.text = "A"};
        mark.anchor.face = face.index;
        mark.anchor.fingerprint = face.fingerprint;
        job = *add_mark(job, mark);
    }
    return job;
}

const TopoDS_Shape box = BRepPrimAPI_MakeBox(10, 20, 30).Shape();

TEST(Rebind, LeavesMarksOnTheSamePartAlone) {
    const part::PartPtr part = part_of(box);
    const Job job = job_on(*part);
    const Rebound rebound = rebind(job, *part_of(box));
    EXPECT_EQ(rebound.job, job);
    EXPECT_TRUE(rebound.lost.empty());
}

TEST(Rebind, FindsFacesByWhatTheyAreWhenTheirNumbersChanged) {
    const part::PartPtr part = part_of(box);
    Job job = job_on(*part);
    const Job right = job;
    for (Mark& mark : job.marks)
        mark.anchor.face = (mark.anchor.face + 1) % 6;
    const Rebound rebound = rebind(job, *part);
    EXPECT_EQ(rebound.job, right);
    EXPECT_TRUE(rebound.lost.empty());
}

TEST(Rebind, FindsFacesThatAreKeptClearAndListsThoseThatAreGone) {
    const part::PartPtr part = part_of(box);
    const auto& faces = part->faces();
    Job job = *keep_clear({}, {4, faces[2].fingerprint, ClearReason::sealing});
    job = *keep_clear(job, {1, {}, ClearReason::mating});                       // written by hand
    job = *keep_clear(job, {0, {Digest{123, 456}}, ClearReason::load_bearing}); // of another part
    job = *keep_clear(job, {999, {}, ClearReason::other});
    const Rebound rebound = rebind(job, *part);
    ASSERT_EQ(rebound.job.kept_clear.size(), 2u);
    EXPECT_EQ(kept_clear(rebound.job, 2)->reason, ClearReason::sealing);
    EXPECT_EQ(kept_clear(rebound.job, 1)->fingerprint, faces[1].fingerprint);
    ASSERT_EQ(rebound.lost_faces.size(), 2u);
    EXPECT_EQ(rebound.lost_faces[0].reason, ClearReason::load_bearing);
    EXPECT_EQ(rebound.lost_faces[1].face, 999);
}

TEST(Rebind, ListsMarksWhoseFaceIsGone) {
    const part::PartPtr part = part_of(box);
    const Job job = job_on(*part);
    // The corner that held the face x = 10 is cut off at x = 5, so only that face is gone for good.
    const part::PartPtr shorter =
        part_of(BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(5, 10, 0), gp_Dir(0, 0, 1)), 4, 30).Shape());
    const Rebound rebound = rebind(job, *shorter);
    EXPECT_GE(rebound.lost.size(), 4u); // the four walls; a cylinder has none
    for (const std::string& lost : rebound.lost)
        EXPECT_EQ(rebound.job.find(lost)->anchor, job.find(lost)->anchor) << "a lost mark keeps its place";
}

TEST(Rebind, AMarkWithoutAFingerprintKeepsItsFace) {
    const part::PartPtr part = part_of(box);
    Job job = job_on(*part);
    const Job right = job;
    for (Mark& mark : job.marks)
        mark.anchor.fingerprint = {};
    EXPECT_EQ(rebind(job, *part).job, right);
    job.marks[2].anchor.face = 6; // there is no seventh face
    EXPECT_THAT(rebind(job, *part).lost, testing::ElementsAre(job.marks[2].id));
}

} // namespace
} // namespace touchmark::job
