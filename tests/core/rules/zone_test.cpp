// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene on_face(Vec3 normal, Mode mode) {
    Scene scene;
    Invented letter;
    letter.pieces = {{"R", 0, 1, {}}};
    letter.strokes = {narrow(1.5)};
    letter.width_mm = 4;
    letter.mark.mode = mode;
    scene.add(letter, scene.face_towards(normal));
    return scene;
}

// Common practice, no source: side wall best, top cut rather than raised, bottom avoided. The process profile gives the
// figures.
TEST(Zone, IsSilentOnASideWallInEitherMode) {
    EXPECT_THAT(on_face({0, -1, 0}, Mode::engrave).findings("zone"), IsEmpty());
    EXPECT_THAT(on_face({0, -1, 0}, Mode::raise).findings("zone"), IsEmpty());
}

TEST(Zone, AdvisesOnTopAndWarnsOnTheBottom) {
    EXPECT_THAT(on_face({0, 0, 1}, Mode::engrave).findings("zone"), ElementsAre(Advises()));
    EXPECT_THAT(on_face({0, 0, -1}, Mode::engrave).findings("zone"), ElementsAre(Warns()));
    EXPECT_THAT(on_face({0, 0, -1}, Mode::raise).findings("zone"),
                ElementsAre(Blocks())); // it would stand on the letters
}

TEST(Zone, JudgesTheProfilesFigureAtItsLimitsFromBothSides) {
    Scene scene = on_face({0, 0, 1}, Mode::engrave);
    const auto with_figure = [&](double figure) {
        for (process::Suitability& entry : scene.process.suitability)
            if (entry.zone == Zone::top && entry.mode == Mode::engrave) entry.figure.value = figure;
        return scene.findings("zone");
    };
    // Assumed, in the profile: below 0.05 the part would stand on the mark, below 0.4 it is at risk; the best zone is
    // silent.
    EXPECT_THAT(with_figure(0.049), ElementsAre(Blocks()));
    EXPECT_THAT(with_figure(0.051), ElementsAre(Warns()));
    EXPECT_THAT(with_figure(0.399), ElementsAre(Warns()));
    EXPECT_THAT(with_figure(0.401), ElementsAre(Advises()));
    EXPECT_THAT(with_figure(0.999), ElementsAre(Advises()));
    EXPECT_THAT(with_figure(1.0), IsEmpty());
}

TEST(Zone, OnTopOffersToCutRatherThanRaise) {
    const Scene scene = on_face({0, 0, 1}, Mode::raise);
    const auto finding = scene.findings("zone").at(0);
    ASSERT_NE(fix_of(finding, "engrave"), nullptr);
    EXPECT_EQ(fix_of(finding, "engrave")->edit(scene.job).value().marks[0].mode, Mode::engrave);
    EXPECT_EQ(fix_of(on_face({0, 0, 1}, Mode::engrave).findings("zone").at(0), "raise"), nullptr);
}

TEST(Zone, OffersASideWallThatHoldsTheMark) {
    const Scene scene = on_face({0, 0, 1}, Mode::engrave);
    const auto finding = scene.findings("zone").at(0);
    const rules::Fix* fix = fix_of(finding, "side_wall_face");
    ASSERT_NE(fix, nullptr);
    const auto fixed = fix->edit(scene.job).value();
    const part::Face& face = scene.part->faces()[static_cast<std::size_t>(fixed.marks[0].anchor.face)];
    EXPECT_NEAR(face.frame.z.z, 0, 1e-9);
    EXPECT_EQ(fixed.marks[0].anchor.fingerprint, face.fingerprint);
    EXPECT_THAT(scene.findings("leaves_face", fixed), IsEmpty());
    EXPECT_THAT(scene.findings("edge_margin", fixed), IsEmpty());
}

TEST(Zone, OffersToStandThePartSoThatTheFaceIsASideWall) {
    const Scene scene = on_face({0, 0, 1}, Mode::engrave);
    const auto finding = scene.findings("zone").at(0);
    const rules::Fix* fix = fix_of(finding, "stand");
    ASSERT_NE(fix, nullptr);
    EXPECT_THAT(fix->title, HasSubstr("Stand on face "));
    EXPECT_THAT(fix->title, HasSubstr("height 56 → ")); // the bracket is 56 mm high as it comes
    const auto fixed = fix->edit(scene.job).value();
    EXPECT_NEAR(fixed.pose.down.z, 0, 1e-9);
    EXPECT_THAT(scene.findings("zone", fixed), IsEmpty());
}

} // namespace
} // namespace touchmark::test
