// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "core/deliver/appended_check.h"
#include "core/deliver/appended_step.h"
#include "core/deliver/step_verify.h"
#include "tests/core/deliver/part21.h"
#include "tests/core/deliver/shapes.h"
#include "tests/support/marked.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>

#include <fstream>
#include <numbers>
#include <random>

namespace touchmark::deliver {
namespace {

using test::ScratchFolder;
using testing::HasSubstr;

part::PartPtr marked(const part::PartPtr& part, int face, Mode mode = Mode::engrave, std::string_view text = "8",
                     const std::string& name = "Mark 1", std::optional<part::Colour> colour = {}) {
    auto mark = test::mark_for(*part, face, text, mode).value();
    mark.name = name;
    mark.colour = colour;
    return imprint::imprint(part, std::span(&mark, 1), {}, Progress()).value().part;
}

Result<StepReport> append(const part::Part& copy, const part::PartPtr& unmarked, const std::filesystem::path& file,
                          const std::shared_ptr<StepStore>& store = nullptr) {
    return write_step(copy, file, {.unmarked = unmarked, .store = store}, test::reader(), Progress());
}

int flat_face(const part::Part& part) {
    return test::roomy_faces(part, part::FaceKind::plane, 1).front();
}

TEST(Appended, TheUnmarkedPartIsWrittenOnceForAllItsCopies) {
    const ScratchFolder folder;
    const part::PartPtr box = test::box_part(40, 30, 20);
    const auto store = std::make_shared<StepStore>();
    const int face = flat_face(*box);
    for (const char* text : {"17", "18", "19"}) {
        const auto report = append(*marked(box, face, Mode::engrave, text), box, folder / "copy.step", store);
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_EQ(report->route, StepRoute::appended) << report->reason;
        EXPECT_FALSE(report->whole_read_back);
    }
    EXPECT_THAT(folder.names(), testing::ElementsAre("copy.step"));
}

TEST(Appended, TheHeadIsTheCopysOwn) {
    const ScratchFolder folder;
    const part::PartPtr box = test::box_part(40, 30, 20);
    const auto report =
        write_step(*marked(box, flat_face(*box)), folder / "Größe 'A'.step",
                   {.author = "Ada", .organisation = "Works", .unmarked = box}, test::reader(), Progress());
    ASSERT_TRUE(report) << report.error().message;
    const std::string text = *read_text(folder / "Größe 'A'.step");
    EXPECT_THAT(text, HasSubstr("FILE_NAME('Gr\\X2\\00F600DF\\X0\\e ''A''.step'"));
    EXPECT_THAT(text, HasSubstr("('Ada'),('Works')"));
    EXPECT_THAT(text, HasSubstr("AP242_MANAGED"));
    EXPECT_NO_THROW(test::Part21{text});
}

TEST(Appended, NamesOfMarksComeBackWhateverTheyAre) {
    const ScratchFolder folder;
    const part::PartPtr box = test::box_part(40, 30, 20);
    for (const std::string name :
         {"Größe – 漢字 😀", "it's", "back\\slash", "a\nb\tc", "\\X2\\00C4\\X0\\", "; ENDSEC; #1="}) {
        const auto report = append(*marked(box, flat_face(*box), Mode::engrave, "8", name), box, folder / "named.step");
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_EQ(report->route, StepRoute::appended) << name << report->reason;
        const part::PartPtr back = test::read_part(folder / "named.step");
        EXPECT_EQ(std::ranges::count(back->faces(), name, &part::Face::name),
                  static_cast<int>(back->faces().size()) - 8)
            << name;
    }
}

TEST(Appended, AMarksColourStandsAgainstThatOfTheBody) {
    const ScratchFolder folder;
    part::Model model = test::model_of(BRepPrimAPI_MakeBox(40, 30, 20).Shape(), "Box");
    const part::Colour grey{0.5f, 0.5f, 0.5f}, red{0.8f, 0.1f, 0.1f}, blue{0, 0, 1};
    model.products[0].colour = grey;
    part::Styled styled;
    styled.shape = test::nth_face(model.products[0].shape, 0);
    styled.surface = blue;
    styled.name = "Side";
    model.products[0].styled = {styled};
    const part::PartPtr box = test::part_of(model);
    for (const int face : {0, flat_face(*box)}) { // on the blue face and beside it
        const part::PartPtr copy = marked(box, face, Mode::raise, "8", "Mark 1", red);
        const auto report = append(*copy, box, folder / "coloured.step");
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_EQ(report->route, StepRoute::appended) << report->reason;
        const part::PartPtr back = test::read_part(folder / "coloured.step");
        int reds = 0, blues = 0;
        for (const part::Face& at : back->faces()) {
            ASSERT_TRUE(at.colour) << at.index;
            reds += at.name == "Mark 1" && std::abs(at.colour->red - red.red) < 2e-3;
            blues += at.name == "Side" && std::abs(at.colour->blue - 1) < 2e-3;
        }
        EXPECT_EQ(reds, std::ranges::count(copy->faces(), "Mark 1", &part::Face::mark));
        EXPECT_EQ(blues, face == 0 ? 3 : 1) << "the two counters of the 8 stay blue";
    }
}

TEST(Appended, ACylindersSeamIsInterrupted) {
    const ScratchFolder folder;
    const part::PartPtr shaft = test::part_of(test::model_of(BRepPrimAPI_MakeCylinder(10, 30).Shape(), "Shaft"));
    const int face = test::roomy_faces(*shaft, part::FaceKind::cylinder, 1).front();
    auto mark = test::mark_for(*shaft, face, "8M8", Mode::engrave).value();
    for (const double round : {0.0, 31.4}) { // half a turn on lies the seam
        imprint::Footprint moved = mark;
        moved.outline = geometry::transformed(mark.outline, geometry::Affine::translation({round, 0}));
        const auto made = imprint::imprint(shaft, std::span(&moved, 1), {}, Progress());
        ASSERT_TRUE(made) << made.error().message;
        const auto report = append(*made->part, shaft, folder / "shaft.step");
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_EQ(report->route, StepRoute::appended) << report->reason;
        EXPECT_FALSE(report->whole_read_back);
        const Status same = same_part(*made->part, *test::read_part(folder / "shaft.step"), {});
        EXPECT_TRUE(same) << same.error().message;
    }
}

TEST(Appended, AMarkAcrossTwoFacesOfACylinderTakesTheEdgeBetweenThemApart) {
    const ScratchFolder folder;
    const gp_Ax2 one(gp_Pnt(0, 0, 0), gp::DZ()), other = one.Rotated(one.Axis(), std::numbers::pi);
    const TopoDS_Shape halves = BRepAlgoAPI_Fuse(BRepPrimAPI_MakeCylinder(one, 12, 30, std::numbers::pi).Shape(),
                                                 BRepPrimAPI_MakeCylinder(other, 12, 30, std::numbers::pi).Shape())
                                    .Shape();
    const part::PartPtr shaft = test::part_of(test::model_of(TopExp_Explorer(halves, TopAbs_SOLID).Current(), "Shaft"));
    const int face = test::roomy_faces(*shaft, part::FaceKind::cylinder, 1).front();
    auto mark = test::mark_for(*shaft, face, "8M8", Mode::engrave).value();
    ASSERT_EQ(mark.map->faces().size(), 2u);
    mark.outline = geometry::transformed(mark.outline, geometry::Affine::translation({12 * std::numbers::pi / 2, 0.3}));
    const auto made = imprint::imprint(shaft, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, imprint::Route::direct);
    const auto report = append(*made->part, shaft, folder / "shaft.step");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_EQ(report->route, StepRoute::appended) << report->reason;
    const Status same = same_part(*made->part, *test::read_part(folder / "shaft.step"), {});
    EXPECT_TRUE(same) << same.error().message;
}

/// A box with a cube of air in it, and the same without; the shells they share are the same shape.
std::pair<part::PartPtr, part::PartPtr> with_and_without_void() {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(40, 30, 20).Shape();
    const TopoDS_Shape hollow = BRepPrimAPI_MakeBox(gp_Pnt(5, 5, 5), 3, 4, 5).Shape();
    BRep_Builder builder;
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    for (TopoDS_Iterator shell(box); shell.More(); shell.Next())
        builder.Add(solid, shell.Value());
    builder.Add(solid, TopExp_Explorer(hollow, TopAbs_SHELL).Current().Reversed());
    return {test::part_of(test::model_of(solid, "Box")), test::part_of(test::model_of(box, "Box"))};
}

TEST(Appended, AHiddenVoidIsAShellWithinTheSolid) {
    const ScratchFolder folder;
    const auto [hollow, whole] = with_and_without_void();
    ASSERT_NEAR(hollow->volume_mm3(), 24000 - 60, 1e-6);
    const auto report = append(*hollow, whole, folder / "hollow.step");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_EQ(report->route, StepRoute::appended) << report->reason;
    EXPECT_FALSE(report->whole_read_back);
    EXPECT_NEAR(report->volume_mm3, 24000 - 60, 1e-6);
    EXPECT_EQ(test::Part21(*read_text(folder / "hollow.step")).types["BREP_WITH_VOIDS"], 1);
    const part::PartPtr back = test::read_part(folder / "hollow.step");
    EXPECT_NEAR(back->volume_mm3(), 24000 - 60, 1e-6);
    EXPECT_TRUE(same_part(*hollow, *back, {}));
    EXPECT_TRUE(back->bodies().at(0).valid);
}

TEST(Appended, AnInlayIsASolidBesideTheOther) {
    const ScratchFolder folder;
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(40, 30, 20).Shape();
    const TopoDS_Shape other = BRepPrimAPI_MakeBox(gp_Pnt(5, 5, 20), 3, 4, 1).Shape();
    TopoDS_Compound both;
    BRep_Builder builder;
    builder.MakeCompound(both);
    builder.Add(both, box);
    builder.Add(both, other);
    part::Model model = test::model_of(both, "Box");
    model.products[0].styled.push_back({other, "Inlay 1", part::Colour{1, 0.5f, 0}, {}, {}});
    const part::PartPtr inlaid = test::part_of(model), plain = test::part_of(test::model_of(box, "Box"));
    const auto report = append(*inlaid, plain, folder / "inlaid.step");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_EQ(report->route, StepRoute::appended) << report->reason;
    EXPECT_FALSE(report->whole_read_back);
    EXPECT_EQ(report->solids, 2);
    EXPECT_NEAR(report->volume_mm3, 24000 + 12, 1e-6);
    const part::PartPtr back = test::read_part(folder / "inlaid.step");
    ASSERT_EQ(back->bodies().size(), 2u);
    EXPECT_EQ(back->bodies()[1].name, "Inlay 1");
    EXPECT_NEAR(back->volume_mm3(), 24000 + 12, 1e-6);
    ASSERT_TRUE(back->faces().back().colour);
    EXPECT_NEAR(back->faces().back().colour->green, 0.5, 2e-3);
    EXPECT_FALSE(back->faces().front().colour);
}

TEST(Appended, WhatIsNotOfThatKindGoesToTheReferenceAndSaysWhy) {
    const ScratchFolder folder;
    const auto reason = [&](const part::Part& copy, const part::PartPtr& unmarked) {
        const auto report = append(copy, unmarked, folder / "copy.step");
        if (!report) return report.error().message;
        EXPECT_EQ(report->route, StepRoute::reference);
        EXPECT_TRUE(report->whole_read_back);
        return report->reason;
    };

    part::Model model = test::model_of(BRepPrimAPI_MakeBox(40, 30, 20).Shape(), "Box");
    part::Model named = model;
    named.products[0].name = named.name = "Other";
    EXPECT_THAT(reason(*test::part_of(named), test::part_of(model)), HasSubstr("another part"));
    part::Model styled = model;
    styled.products[0].styled.push_back({test::nth_face(model.products[0].shape, 2), "Lid", {}, {}, {}});
    EXPECT_THAT(reason(*test::part_of(styled), test::part_of(model)), HasSubstr("a name or colour"));
    EXPECT_THAT(reason(*test::part_of(model), test::part_of(styled)), HasSubstr("had a name or colour"));

    part::Model pair;
    pair.name = "Pair";
    pair.products.resize(2);
    pair.products[0].name = "Pair";
    pair.products[1].name = "Box";
    pair.products[1].shape = model.products[0].shape;
    part::Instance left, right;
    left.product = right.product = 1;
    gp_Trsf move;
    move.SetTranslation(gp_Vec(100, 0, 0));
    right.location = TopLoc_Location(move);
    pair.products[0].children = {left, right};
    pair.roots.emplace_back();
    const part::PartPtr twice = test::part_of(pair);
    EXPECT_THAT(reason(*marked(twice, flat_face(*twice)), twice), HasSubstr("product of its own"));
}

/// A marked copy's text, and what it is checked against.
struct Written {
    part::PartPtr part, copy;
    std::shared_ptr<const Unmarked> unmarked;
    Changes changes;
    Appended text;
    std::size_t added_at = 0; ///< where what was added begins

    Written() {
        part = test::read_part(test::open_part("conical-surface.step"));
        copy = marked(part, test::roomy_faces(*part, part::FaceKind::cone, 1).front());
        unmarked = write_unmarked(part, "copy.step", StepSchema::ap242, test::reader(), Progress()).value();
        changes = changes_of(*unmarked, part::model(*copy)).value();
        text = appended(*unmarked, changes, {"copy.step", {}, {}}).value();
        added_at = text.text.find("\n#" + std::to_string(unmarked->file.highest_id() + 1) + '=') + 1;
    }

    /// Whether the quick check passes a text, with the volume that was meant.
    [[nodiscard]] bool passes(const std::string& changed) const {
        const auto parsed = Exchange::parse(changed);
        if (!parsed) return false;
        const auto found = check_appended(*parsed, *unmarked, changes, text);
        if (!found || !*found) return false;
        return std::abs((*found)->volume_change_mm3 - (copy->volume_mm3() - part->volume_mm3())) <
               1e-9 * part->volume_mm3();
    }
    /// Whether OpenCASCADE reads it back as what was meant.
    [[nodiscard]] bool reads_back(const std::string& changed) const {
        const ScratchFolder folder;
        std::ofstream(folder / "copy.step") << changed;
        const auto back = test::reader().read(folder / "copy.step", Progress());
        return back && same_part(*copy, **back, {});
    }
    /// Where `what` stands in what was added, at or behind `share` of it.
    [[nodiscard]] std::size_t find(std::string_view what, double share = 0) const {
        const auto from = added_at + static_cast<std::size_t>(share * static_cast<double>(text.text.size() - added_at));
        return text.text.find(what, from);
    }
};

const Written& written() {
    static const Written one;
    return one;
}

TEST(AppendedCheck, WhatIsWrittenKeepsTheRulesOfTheStandard) {
    const std::string& text = written().text.text;
    EXPECT_NO_THROW(test::Part21{text});
    const std::pair<const char*, const char*> breaches[] = {
        {"=EDGE_LOOP('',(#", "=EDGE_LOOP('',(#1,#"},
        {"=VERTEX_POINT('',#", "=VERTEX_POINT(#"},
        {"=ADVANCED_FACE('Mark 1',(", "=ADVANCED_FACE('Mark 1',(),("},
        {"=LINE('',#", "=LINE('',#9999999,#"},
        {"=DIRECTION('',(", "=DIRECTION('',(1,"},
        {"=ORIENTED_EDGE('',*", "=ORIENTED_EDGE('',$"}};
    for (const auto& [from, by] : breaches) {
        std::string changed = text;
        const std::size_t at = written().find(from);
        ASSERT_NE(at, std::string::npos) << from;
        changed.replace(at, std::string_view(from).size(), by);
        EXPECT_THROW(test::Part21{changed}, std::runtime_error) << by;
    }
}

TEST(AppendedCheck, PassesWhatWasWritten) {
    EXPECT_TRUE(written().passes(written().text.text));
    EXPECT_TRUE(written().reads_back(written().text.text));
}

TEST(AppendedCheck, CatchesWhatIsBrokenOnPurpose) {
    const Written& w = written();
    const auto with = [&](std::size_t at, std::string_view old, std::string_view by) {
        std::string changed = w.text.text;
        EXPECT_EQ(changed.substr(at, old.size()), old);
        return changed.replace(at, old.size(), by);
    };
    for (const double share : {0.1, 0.5, 0.9}) {
        const std::size_t edge = w.text.text.find(",.T.);", w.find("=ORIENTED_EDGE", share));
        EXPECT_FALSE(w.passes(with(edge, ",.T.);", ",.F.);"))) << "an edge that runs the other way";
        const std::size_t face = w.find("=ADVANCED_FACE", share), sense = w.text.text.find(';', face) - 3;
        const std::string_view was = std::string_view(w.text.text).substr(sense, 2);
        EXPECT_FALSE(w.passes(with(sense - 1, '.' + std::string(was), was == "T." ? ".F." : ".T.")))
            << "a face turned inside out";
        const std::size_t point = w.find("=CARTESIAN_POINT('',(", share) + 21;
        EXPECT_FALSE(w.passes(with(point, "", "1"))) << "a point far off";
        const std::size_t curve = w.find("=EDGE_CURVE('',#", share) + 16;
        EXPECT_FALSE(w.passes(with(curve, "", "1"))) << "an edge of another vertex, or of none";
    }
    const std::size_t shell = w.text.text.find("=CLOSED_SHELL("), first = w.text.text.find('#', shell);
    const std::size_t second = w.text.text.find('#', first + 1);
    EXPECT_FALSE(w.passes(std::string(w.text.text).erase(first, second - first))) << "a hole in the shell";
    const std::size_t old = w.text.text.find("CARTESIAN_POINT('',(") + 20;
    EXPECT_FALSE(w.passes(with(old, "", "1"))) << "a change to what was not to change";
    const std::size_t end = w.text.text.rfind("ENDSEC;");
    EXPECT_FALSE(w.passes(with(end, "ENDSEC;", ""))) << "no end";
    EXPECT_FALSE(w.passes(w.text.text.substr(0, end))) << "half a file";
    EXPECT_FALSE(w.passes(with(end, "", "#99999999=DIRECTION('',(1.,0.,0.));\n"))) << "an instance too many";
}

/// What it passes the full reading passes too, for texts with a character changed by chance in what was added.
TEST(AppendedCheck, NeverPassesWhatAFullReadingFails) {
    const Written& w = written();
    std::mt19937 random(5);
    std::uniform_int_distribution<std::size_t> place(w.added_at, w.text.text.rfind("ENDSEC;") - 1);
    int caught = 0, passed = 0;
    for (int i = 0; i < 150; ++i) {
        std::string changed = w.text.text;
        const std::size_t at = place(random);
        char& c = changed[at];
        if (c >= '0' && c <= '9')
            c = static_cast<char>('0' + (c - '0' + 1 + static_cast<int>(random() % 8)) % 10);
        else if (c == 'T' || c == 'F')
            c = c == 'T' ? 'F' : 'T';
        else
            continue;
        if (!w.passes(changed)) {
            ++caught;
            continue;
        }
        ++passed;
        const std::size_t line = changed.rfind('\n', at) + 1;
        EXPECT_TRUE(w.reads_back(changed)) << changed.substr(line, changed.find('\n', at) - line) << " was "
                                           << w.text.text.substr(line, changed.find('\n', at) - line);
    }
    EXPECT_GT(caught, 20);
    EXPECT_GT(passed, 0) << "far decimals do not matter";
}

} // namespace
} // namespace touchmark::deliver
