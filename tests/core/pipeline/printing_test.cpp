// SPDX-License-Identifier: MIT
#include "core/pipeline/printing.h"

#include "core/pipeline/study.h"
#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

print::PrintedMark printed(const job::Job& job) {
    pipeline::Evaluator evaluator;
    return *evaluator.evaluate(job, bracket(), Progress(), pipeline::Depth::printed).value()->marks[0].printed;
}

TEST(Printing, OnAWallLayersRunAcrossTheTextHoweverItIsTurned) {
    for (const double turn : {0.0, 90.0, -30.0}) {
        job::Job job = with_mark({}, {.normal = {0, -1, 0}});
        job.marks[0].anchor.turn = Degrees(turn);
        const print::Standing standing = printed(job).standing;
        EXPECT_EQ(standing.zone, Zone::side_wall);
        EXPECT_NEAR(standing.incline.value, 90, 1e-6);
        // Text turned counter-clockwise by t has the part's up at 90° − t from its own x.
        const double angle = (90 - turn) * std::numbers::pi / 180;
        EXPECT_NEAR(standing.up.x, std::cos(angle), 1e-9) << turn;
        EXPECT_NEAR(standing.up.y, std::sin(angle), 1e-9) << turn;
    }
}

TEST(Printing, TheLayersOfALyingBoreFollowItsCircle) {
    const auto& faces = bracket().part->faces();
    const auto bore = std::ranges::find_if(faces, [](const part::Face& face) {
        return face.kind == part::FaceKind::cylinder && std::abs(face.frame.z.z) < 1e-6 && face.area_mm2 > 300;
    });
    ASSERT_NE(bore, faces.end());
    job::Job job = with_mark({}, {.text = "48", .cap_height = 4});
    job::Anchor& anchor = job.marks[0].anchor;
    anchor.face = bore->index;
    anchor.fingerprint = bore->fingerprint;
    pipeline::Evaluator evaluator;
    const auto map = evaluated(evaluator, job)->marks[0].map;
    ASSERT_TRUE(map);
    // To where the bore stands upright.
    const Vec2 room = map->rectangle();
    for (double x = -room.x / 2; x < room.x / 2; x += 0.05)
        if (std::abs(map->normal({x, 0}).z) < std::abs(map->normal(anchor.at).z)) anchor.at = {x, 0};
    const print::PrintedMark out = printed(job);
    const print::Rise& rise = out.standing.rise;
    ASSERT_FALSE(rise.empty());
    const double radius = bore->radius_mm, tilt = std::asin(map->normal(anchor.at).z);
    for (double place = -2; place <= 2; place += 0.5) {
        const double concave = std::abs(std::sin(tilt - place / radius) - std::sin(tilt)),
                     convex = std::abs(std::sin(tilt + place / radius) - std::sin(tilt));
        const double height = std::abs(rise.height(place));
        EXPECT_LT(std::min(std::abs(height - radius * concave), std::abs(height - radius * convex)), 5e-3) << place;
    }
    // On the upright wall beside it there is none.
    EXPECT_TRUE(printed(with_mark({}, {.text = "48", .cap_height = 4})).standing.rise.empty());
}

TEST(Printing, LargeTextReadsAndSixPointTextIsLost) {
    const auto large = printed(with_mark({}, {.text = "Lot 48-B", .cap_height = 8, .weight = 700}));
    EXPECT_EQ(large.verdict(), print::Verdict::reads);
    EXPECT_EQ(large.pieces.size(), 7U); // a space is no piece with a figure
    const auto small = printed(with_mark({}, {.text = "Lot 48-B", .cap_height = 1.5, .weight = 400}));
    EXPECT_EQ(small.verdict(), print::Verdict::lost);
    EXPECT_LT(small.worst()->fidelity.figure(), print::lost_below);
}

TEST(Printing, ACodeIsJudgedByItsModules) {
    job::Job job = with_mark({}, {});
    content::Code code;
    code.message = "NW-2207/0815";
    code.module = Mm(1);
    code.lettering = Mm(5);
    job.marks[0].content = code;
    const auto readable = printed(job);
    ASSERT_TRUE(readable.modules);
    EXPECT_EQ(readable.modules->wrong, 0);
    EXPECT_FALSE(readable.pieces.empty()); // the line beneath
    std::get<content::Code>(job.marks[0].content).light_is_mark = true;
    EXPECT_EQ(printed(job).modules->wrong, 0);
    std::get<content::Code>(job.marks[0].content).module = Mm(0.2);
    EXPECT_EQ(printed(job).verdict(), print::Verdict::lost);
}

TEST(Study, CountsWhereTheRuleAndThePrintAgree) {
    pipeline::Agreement agreement;
    for (const auto& [rule, print] : {std::pair(true, true), {true, true}, {true, true}, {true, false}, {false, true}})
        agreement.add(rule, print);
    EXPECT_DOUBLE_EQ(agreement.precision(), 0.75); // 3 of 4
    EXPECT_DOUBLE_EQ(agreement.recall(), 0.75);
    EXPECT_DOUBLE_EQ(pipeline::Agreement().recall(), 1);
}

TEST(Study, HasACaseForEachCombinationAndJudgesEveryLetter) {
    pipeline::StudyOptions options;
    options.letters = "HO8";
    options.faces = {{"DejaVu Sans", 700}};
    options.heights = {1.5, 8};
    const auto cases = pipeline::study(options, *bracket().fonts, *bracket().processes, Progress()).value();
    const auto printable = std::ranges::count_if(
        *bracket().processes, [](const process::Process& process) { return process.printing.has_value(); });
    EXPECT_EQ(printable, 4); // a powder bed or a vat is passed over
    EXPECT_EQ(cases.size(), 2U * 3 * 3 * static_cast<std::size_t>(printable));
    for (const pipeline::StudyCase& one : cases) {
        const pipeline::Agreement& judged = one.will_not_print;
        EXPECT_EQ(judged.both + judged.only_rule + judged.only_print + judged.neither, 3);
        if (one.process == "fff-0.4" && one.mode == Mode::engrave && one.zone == Zone::side_wall) {
            EXPECT_EQ(one.mean_figure > print::reads_from, one.cap_height == 8) << one.mean_figure;
        }
    }
}

TEST(Printing, TheWallBehindAHiddenMarkIsAsThickAsThePartThere) {
    // The bracket's front wall: straight behind its middle lies what the part's own box and faces say.
    job::Job job = with_mark({}, {.text = "HL", .mode = Mode::hidden, .normal = {0, 0, -1}});
    const print::PrintedMark out = printed(job);
    ASSERT_TRUE(out.light);
    EXPECT_GT(out.light->thinnest_mm, 0.5);
    EXPECT_LE(out.light->thinnest_mm, out.light->thickest_mm);
    EXPECT_EQ(out.light->contrast.size(), 2U);
    // Lambert and Beer with the profile's one figure: no more than that of the whole void.
    const double figure = bracket().processes->front().printing->attenuation_per_mm.value;
    EXPECT_LE(out.light->least_contrast(), std::tanh(figure * 0.5 / 2) + 1e-6);
    EXPECT_GT(out.light->least_contrast(), 0);
}

TEST(Printing, IsOnlyDoneWhenAskedForAndThenRemembered) {
    pipeline::Evaluator evaluator;
    job::Job job = with_mark({}, {.text = "Lot 48-B", .cap_height = 1.5, .weight = 400});
    const auto rule_speaks = [](const pipeline::Evaluation& evaluation) {
        return worst(evaluation, "simulated_print", evaluation.marks[0].mark).has_value();
    };
    const auto quick = evaluated(evaluator, job);
    EXPECT_FALSE(quick->marks[0].printed);
    EXPECT_FALSE(rule_speaks(*quick));
    const auto printed = evaluator.evaluate(job, bracket(), Progress(), pipeline::Depth::printed).value();
    ASSERT_TRUE(printed->marks[0].printed);
    EXPECT_TRUE(rule_speaks(*printed));
    EXPECT_EQ(evaluated(evaluator, job)->marks[0].printed, printed->marks[0].printed);
    job.marks[0].anchor.at.y += 0.033; // elsewhere on the wall: the print of a mark like it is shown
    EXPECT_EQ(evaluated(evaluator, job)->marks[0].printed, printed->marks[0].printed);
    std::get<content::Text>(job.marks[0].content).text = "Lot 49-B";
    EXPECT_FALSE(evaluated(evaluator, job)->marks[0].printed);
}

TEST(Printing, AFixThatItOffersSilencesIt) {
    pipeline::Evaluator evaluator;
    const job::Job job = with_mark({}, {.text = "B8", .cap_height = 2, .weight = 400});
    const auto before = evaluator.evaluate(job, bracket(), Progress(), pipeline::Depth::tried).value();
    int tried = 0;
    for (const rules::Finding& finding : before->findings) {
        if (finding.rule != "simulated_print") continue;
        for (const rules::Fix& fix : finding.fixes) {
            const auto after =
                evaluator.evaluate(fix.edit(job).value(), bracket(), Progress(), pipeline::Depth::tried).value();
            const auto left = worst(*after, "simulated_print", after->marks[0].mark);
            EXPECT_TRUE(!left || *left > finding.severity) << fix.title;
            ++tried;
        }
    }
    EXPECT_GT(tried, 0);
}

} // namespace
} // namespace touchmark::test
