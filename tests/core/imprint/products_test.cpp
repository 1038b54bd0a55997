// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include <BRepPrimAPI_MakeBox.hxx>
#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <algorithm>

namespace touchmark::test {
namespace {

constexpr part::Colour red{1, 0, 0}, blue{0, 0, 1};

TopLoc_Location shifted(double x) {
    gp_Trsf move;
    move.SetTranslation(gp_Vec(x, 0, 0));
    return TopLoc_Location(move);
}

/// An assembly with a sub-assembly placed twice, in which a bolt stands twice; and a plate used once, its top red.
part::PartPtr assembly() {
    part::Model model;
    model.name = "assembly";
    const TopoDS_Shape bolt = BRepPrimAPI_MakeBox(20, 20, 20).Shape(),
                       plate = BRepPrimAPI_MakeBox(200, 100, 10).Shape();
    model.products.push_back({"bolt", bolt, {}, blue, {}});
    model.products.push_back({"pair", {}, {{0, shifted(0), "left", {}}, {0, shifted(40), "right", {}}}, {}, {}});
    model.products.push_back({"plate", plate, {}, {}, {}});
    for (TopExp_Explorer face(plate, TopAbs_FACE); face.More(); face.Next())
        model.products[2].styled.push_back({face.Current(), "side", red, {}, {}});
    model.products.push_back(
        {"all", {}, {{1, shifted(0), "one", {}}, {1, shifted(100), "two", {}}, {2, shifted(300), "base", {}}}, {}, {}});
    model.roots.push_back({3, {}, "all", {}});
    auto part = part::make_part(std::move(model), {}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

imprint::Footprint on_body(const part::Part& part, int body) {
    const part::Body& own = part.bodies()[static_cast<std::size_t>(body)];
    int top = -1;
    for (int i = own.first_face; i < own.first_face + own.face_count; ++i)
        if (part.faces()[static_cast<std::size_t>(i)].frame.z.z > 0.9) top = i;
    return {"serial", *surface::map_face(part, top), lettering(3, 14, 6), Mode::engrave,
            Mm(0.5),  part::Colour{0, 1, 0}};
}

TEST(Products, AMarkedOccurrenceOfSeveralBecomesItsOwn) {
    const part::PartPtr part = assembly();
    ASSERT_EQ(part->bodies().size(), 5u);
    const auto mark = on_body(*part, 1); // "right" in "one"
    const auto marked = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(marked) << marked.error().message;
    const part::Part& now = *marked->part;
    ASSERT_EQ(now.bodies().size(), 5u);
    for (std::size_t i = 0; i < 5; ++i)
        EXPECT_NEAR(now.bodies()[i].volume_mm3 - part->bodies()[i].volume_mm3,
                    i == 1 ? -gauss_area(mark.outline) * 0.5 : 0, 1e-7)
            << i;
    EXPECT_EQ(now.bodies()[1].name, "bolt marked");
    EXPECT_EQ(now.bodies()[0].name, "bolt");
    const part::Model& model = part::model(now);
    EXPECT_EQ(model.products.size(), 6u); // a bolt and a pair of their own
    EXPECT_EQ(model.roots.size(), 1u);
    EXPECT_EQ(model.products[3].children[0].name, "one");
    EXPECT_EQ(part::model(*part).products.size(), 4u); // the old part is as it was
}

TEST(Products, AProductUsedOnceIsReplaced) {
    const part::PartPtr part = assembly();
    const auto mark = on_body(*part, 4);
    const auto marked = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(marked) << marked.error().message;
    EXPECT_EQ(part::model(*marked->part).products.size(), 4u);
    EXPECT_EQ(marked->part->bodies()[4].name, "plate");
}

TEST(Products, NamesAndColoursStayAndTheMarkHasItsOwn) {
    const part::PartPtr part = assembly();
    const auto mark = on_body(*part, 4);
    const auto marked = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(marked) << marked.error().message;
    int old_faces = 0, mark_faces = 0;
    for (const part::Face& face : marked->part->faces()) {
        if (face.body != 4) continue;
        if (face.mark == "serial") {
            EXPECT_EQ(face.colour, mark.colour);
            EXPECT_EQ(face.name, "serial");
            ++mark_faces;
        } else {
            EXPECT_EQ(face.colour, red);
            EXPECT_EQ(face.name, "side");
            ++old_faces;
        }
    }
    // Six sides and what remains of the top in the counters of "O" and twice "B".
    EXPECT_EQ(old_faces, 6 + 3);
    EXPECT_EQ(old_faces - 6 + mark_faces, marked->marks[0].faces_added);
}

TEST(Products, BothBodiesOfAPairMayBeMarked) {
    const part::PartPtr part = assembly();
    const std::vector marks{on_body(*part, 0), on_body(*part, 1), on_body(*part, 3)};
    const auto marked = imprint::imprint(part, marks, {}, Progress());
    ASSERT_TRUE(marked) << marked.error().message;
    for (const std::size_t i : {0u, 1u, 3u})
        EXPECT_NEAR(marked->part->bodies()[i].volume_mm3, 8000 - gauss_area(marks[0].outline) * 0.5, 1e-7) << i;
    EXPECT_NEAR(marked->part->bodies()[2].volume_mm3, 8000, 1e-9);
    EXPECT_NE(marked->part->digest(), part->digest());
}

} // namespace
} // namespace touchmark::test
