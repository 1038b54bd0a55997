// SPDX-License-Identifier: MIT

// A face is found again: after reading anew, after a detour over another file, after a change elsewhere, after a small
// change to itself; and never taken for another that is merely alike.

#include "tests/core/part/made_parts.h"
#include "tests/core/part/written_files.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

namespace touchmark::test {
namespace {

TopoDS_Shape plate(double hole_x, double hole_radius) {
    return BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(60, 40, 5).Shape(),
                           BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(hole_x, 20, -1), gp::DZ()), hole_radius, 10).Shape())
        .Shape();
}

const part::Face* facing(const part::Part& part, const Vec3& direction) {
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, direction) > 0.99) return &face;
    return nullptr;
}

TEST(Fingerprint, IsTheSameWhenTheFileIsReadAgain) {
    for (const char* file : {"as1-oc-214.stp", "frame.step", "dm1-id-214.stp"}) {
        const auto one = read_part(open_part(file)), other = read_part(open_part(file));
        ASSERT_EQ(one->faces().size(), other->faces().size());
        for (std::size_t i = 0; i < one->faces().size(); ++i)
            EXPECT_EQ(one->faces()[i].fingerprint, other->faces()[i].fingerprint) << file << ' ' << i;
    }
}

TEST(Fingerprint, TellsTheFacesOfAPartApart) {
    for (const char* file : {"as1-oc-214.stp", "frame.step", "io1-cm-214.stp"}) {
        const auto part = read_part(open_part(file));
        std::set<Digest> digests;
        for (const part::Face& face : part->faces())
            digests.insert(face.fingerprint.digest);
        EXPECT_EQ(digests.size(), part->faces().size()) << file;
    }
}

// In s1-c5 the bodies HEAD_FRONT and HEAD_BACK overlap and share one and the same annulus, looking the same way:
// nothing of the face itself tells these two apart, only the hint does.
TEST(Fingerprint, IsSharedOnlyByFacesOfTwoBodiesThatCoincideAndThereTheHintDecides) {
    const auto part = read_part(open_part("s1-c5-214/s1-c5-214.stp"));
    std::map<Digest, const part::Face*> first;
    int shared = 0;
    for (const part::Face& face : part->faces()) {
        EXPECT_EQ(part::find_face(*part, face.fingerprint, face.index), face.index);
        const auto [entry, fresh] = first.try_emplace(face.fingerprint.digest, &face);
        if (fresh) continue;
        const part::Face& other = *entry->second;
        ++shared;
        EXPECT_NE(face.body, other.body);
        EXPECT_EQ(face.kind, part::FaceKind::plane);
        EXPECT_NEAR(face.area_mm2, other.area_mm2, 1e-6 * face.area_mm2);
        for (const auto corner : {&Box3::low, &Box3::high})
            EXPECT_LT(distance(face.box.*corner, other.box.*corner), 1e-6);
        EXPECT_NEAR(dot(face.frame.z, other.frame.z), 1, 1e-9);
    }
    EXPECT_EQ(shared, 1);
}

TEST(Fingerprint, SurvivesADetourThroughAnotherFile) {
    const auto part = made_part(plate(20, 6));
    const Folder folder;
    const auto again = read_part(written(folder, part::model(*part).products[0].shape));
    ASSERT_EQ(part->faces().size(), again->faces().size());
    for (const part::Face& face : part->faces()) {
        const auto found = part::find_face(*again, face.fingerprint, -1);
        ASSERT_TRUE(found) << face.index;
        const part::Face& same = again->faces()[static_cast<std::size_t>(*found)];
        EXPECT_EQ(same.kind, face.kind);
        EXPECT_LT(distance(same.centroid, face.centroid), 1e-6);
    }
}

TEST(Fingerprint, DoesNotDependOnTheOrderOfFaces) {
    const auto part = made_part(plate(20, 6));
    for (const part::Face& face : part->faces())
        for (const int hint : {-1, 0, 3, 1000})
            EXPECT_EQ(part::find_face(*part, face.fingerprint, hint), face.index);
}

TEST(Fingerprint, IsFoundWhenAnotherFaceChanged) {
    const auto before = made_part(plate(20, 6)), after = made_part(plate(20, 4));
    for (const Vec3 direction : {Vec3{1, 0, 0}, Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, -1, 0}}) {
        const part::Face *then = facing(*before, direction), *now = facing(*after, direction);
        ASSERT_TRUE(then && now);
        EXPECT_EQ(then->fingerprint, now->fingerprint);
    }
}

TEST(Fingerprint, IsFoundWhenTheFaceItselfChangedALittle) {
    const auto before = made_part(plate(20, 6)), after = made_part(plate(21, 5));
    for (const Vec3 direction : {Vec3{0, 0, 1}, Vec3{0, 0, -1}}) {
        const part::Face *then = facing(*before, direction), *now = facing(*after, direction);
        ASSERT_TRUE(then && now);
        EXPECT_NE(then->fingerprint, now->fingerprint);
        EXPECT_EQ(part::find_face(*after, then->fingerprint, -1), now->index);
    }
}

TEST(Fingerprint, IsNotFoundInAPartThatHasNoSuchFace) {
    const auto part = made_part(plate(20, 6));
    const auto larger = made_part(BRepPrimAPI_MakeBox(120, 80, 5).Shape());
    EXPECT_EQ(part::find_face(*larger, facing(*part, {0, 0, 1})->fingerprint, -1), std::nullopt);
    const auto cylinder = made_part(BRepPrimAPI_MakeCylinder(5, 10).Shape());
    EXPECT_EQ(part::find_face(*cylinder, part->faces()[0].fingerprint, 0), std::nullopt);
}

TEST(Fingerprint, TheTwoSidesOfAThinSheetAreNotMistaken) {
    const auto sheet = made_part(BRepPrimAPI_MakeBox(100, 100, 0.001).Shape());
    const part::Face *top = facing(*sheet, {0, 0, 1}), *bottom = facing(*sheet, {0, 0, -1});
    ASSERT_TRUE(top && bottom);
    const auto thicker = made_part(BRepPrimAPI_MakeBox(100, 100, 0.0015).Shape());
    EXPECT_EQ(part::find_face(*thicker, top->fingerprint, -1), facing(*thicker, {0, 0, 1})->index);
    EXPECT_EQ(part::find_face(*thicker, bottom->fingerprint, -1), facing(*thicker, {0, 0, -1})->index);
}

TEST(Fingerprint, EqualFacesOfAPatternAreFoundByPlace) {
    TopoDS_Shape holes = BRepPrimAPI_MakeBox(60, 40, 5).Shape();
    for (int i = 0; i < 5; ++i)
        holes = BRepAlgoAPI_Cut(holes,
                                BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(10 + 10 * i, 20, -1), gp::DZ()), 2, 10).Shape())
                    .Shape();
    const auto part = made_part(holes);
    for (const part::Face& face : part->faces())
        EXPECT_EQ(part::find_face(*part, face.fingerprint, -1), face.index);
}

TEST(Fingerprint, TravelsAsText) {
    const auto part = made_part(plate(20, 6));
    const auto digest = Digest::from_text(part->faces()[3].fingerprint.digest.text());
    ASSERT_TRUE(digest);
    EXPECT_EQ(part::find_face(*part, {*digest}, -1), 3);
}

} // namespace
} // namespace touchmark::test
