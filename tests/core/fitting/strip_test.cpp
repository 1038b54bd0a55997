// SPDX-License-Identifier: MIT
#include "core/fitting/write_strip.h"

#include "core/fitting/layout.h"
#include "core/job/job_file.h"
#include "core/part/block_part.h"
#include "core/pipeline/evaluate.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"
#include "tests/support/solid_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

namespace touchmark::fitting {
namespace {

const std::vector<process::Process>& profiles() {
    static const auto all = process::load_processes(std::filesystem::path(TOUCHMARK_RESOURCES) / "processes").value();
    return all;
}
const process::Process& profile(std::string_view id) {
    return *std::ranges::find(profiles(), id, &process::Process::id);
}

TEST(BlockPart, IsOneSolidWithTheVolumeOfItsBlocks) {
    // Two blocks side by side with one roof: 10 × 4 × 3 and 5 × 4 × 3 mm share a top, front, back and bottom.
    const std::vector<Box3> blocks{{{0, 0, 0}, {10, 4, 3}}, {{10, 0, 0}, {15, 4, 3}}};
    const auto part = part::block_part("Two", blocks, Progress());
    ASSERT_TRUE(part) << part.error().message;
    EXPECT_EQ((*part)->bodies().size(), 1U);
    EXPECT_EQ((*part)->faces().size(), 6U);
    EXPECT_NEAR((*part)->volume_mm3(), 180, 1e-9);
    EXPECT_NE((*part)->digest(), (*part::block_part("Other", blocks, Progress()))->digest());
}

TEST(BlockPart, RefusesWhatIsNoSolid) {
    const auto code = [](std::vector<Box3> blocks) { return part::block_part("X", blocks, Progress()).error().code; };
    EXPECT_EQ(code({}), "part.blocks");
    EXPECT_EQ(code({{{0, 0, 0}, {1, 1, 0}}}), "part.blocks");
    EXPECT_EQ(code({{{0, 0, 0}, {1, 1, 1}}, {{2, 0, 0}, {3, 1, 1}}}), "part.blocks");
}

TEST(TestStrip, OfEachProfileIsOneSoundSolidThatFitsAPlate) {
    for (const process::Process& process : profiles()) {
        SCOPED_TRACE(process.id);
        if (!process.printing) continue;
        const auto strip = strip_for(process, Progress());
        ASSERT_TRUE(strip) << strip.error().message;
        ASSERT_EQ(strip->blank->bodies().size(), 1U);
        EXPECT_TRUE(strip->blank->bodies()[0].valid);
        EXPECT_NEAR(strip->blank->volume_mm3(), strip->blank_mm3, 1e-9 * strip->blank_mm3);
        EXPECT_LE(strip->blank->box().size().x, 250); // common practice, no source: plates from 250 mm on
    }
}

TEST(TestStrip, WithoutFiguresForPrintingThereIsNone) {
    process::Process other = profile("fff-0.4");
    other.printing.reset();
    EXPECT_EQ(strip_for(other, Progress()).error().code, "print.no_figures");
}

TEST(TestStrip, NamesAreUniqueAndSizesGrowWithinASeries) {
    for (const process::Process& process : profiles()) {
        if (!process.printing) continue;
        std::set<std::string> names;
        const std::vector<Item> items = items_of(process);
        for (std::size_t i = 0; i < items.size(); ++i) {
            EXPECT_TRUE(names.insert(items[i].name).second) << items[i].name;
            if (i > 0 && items[i].name.front() == items[i - 1].name.front()) {
                EXPECT_GT(items[i].size_mm, items[i - 1].size_mm) << items[i].name;
            }
        }
        for (const Series& series : all_series())
            EXPECT_TRUE(names.contains(series.letter + std::string("1"))) << series.letter;
    }
}

TEST(TestStrip, ThresholdsOfTheProfileLieWithinEachSeriesOfStrokes) {
    // Common practice, no source: a stroke under 0.5 mm at a 0.4 nozzle does not print. Some do, some do not.
    const std::vector<Item> items = items_of(profile("fff-0.4"));
    for (const char letter : {'A', 'B', 'E', 'F', 'L'}) {
        int below = 0, above = 0;
        for (const Item& item : items)
            if (item.name.front() == letter) ++(item.size_mm < 0.5 ? below : above);
        EXPECT_GE(below, 3) << letter;
        EXPECT_GE(above, 3) << letter;
    }
}

TEST(TestStrip, StepsOfTheWedgeAreSoThickAndWholeLayers) {
    const process::Process& process = profile("fff-0.4");
    const auto strip = strip_for(process, Progress());
    ASSERT_TRUE(strip);
    for (const Item& item : strip->items) {
        if (item.kind != Kind::step) continue;
        const double layers = (item.size_mm - process.first_layer_mm.value) / process.layer_height_mm.value;
        EXPECT_NEAR(layers, std::round(layers), 1e-9);
        const bool there = std::ranges::any_of(strip->blank->faces(), [&](const part::Face& face) {
            return face.frame.z.z > 0.999 && std::abs(face.centroid.z - item.size_mm) < 1e-9;
        });
        EXPECT_TRUE(there) << item.name;
    }
}

TEST(TestStrip, EveryItemIsAMarkOfItsNameInItsZone) {
    const auto strip = strip_for(profile("fff-0.4"), Progress());
    ASSERT_TRUE(strip) << strip.error().message;
    for (const Item& item : strip->items) {
        const auto mark = std::ranges::find(strip->job.marks, item.name, &job::Mark::name);
        if (item.kind == Kind::step) {
            EXPECT_EQ(mark, strip->job.marks.end());
            continue;
        }
        ASSERT_NE(mark, strip->job.marks.end()) << item.name;
        EXPECT_EQ(mark->mode, item.mode);
        const double up = strip->blank->faces()[static_cast<std::size_t>(mark->anchor.face)].frame.z.z;
        EXPECT_NEAR(up, item.zone == Zone::top ? 1 : item.zone == Zone::bottom ? -1 : 0, 1e-9) << item.name;
    }
}

TEST(TestStrip, ReadsFromLeftToRightFromEverySide) {
    const process::Process& process = profile("fff-0.4");
    const std::vector<Item> items = items_of(process);
    const std::vector<Placed> all = placed(process, items);
    const auto at = [&](std::string_view name) {
        return *std::ranges::find_if(all, [&](const Placed& one) { return one.item && one.item->name == name; });
    };
    for (const auto& [name, next, outward] : {std::tuple{"A1", "A2", Vec3{0, -1, 0}},
                                              {"C1", "C2", {0, 1, 0}},
                                              {"E1", "E2", {0, 0, 1}},
                                              {"L1", "L2", {0, 0, -1}}}) {
        const Spot spot = at(name).spot;
        EXPECT_NEAR(distance(spot.normal(), outward), 0, 1e-12) << name;
        EXPECT_GT(dot(at(next).spot.at - spot.at, spot.along), 0) << name;
    }
}

pipeline::Surroundings around(const Strip& strip) {
    pipeline::Surroundings out;
    out.part = strip.blank;
    out.processes = std::make_shared<const std::vector<process::Process>>(profiles());
    out.fonts = content::FontLibrary::system().value();
    return out;
}

TEST(TestStrip, MarkedByThePipelineItIsWrittenAndReadBack) {
    const auto strip = strip_for(profile("fff-0.6"), Progress());
    ASSERT_TRUE(strip);
    const test::ScratchFolder folder;
    const auto written = write_strip(*strip, profile("fff-0.6"), around(*strip).fonts, folder / "strip.step",
                                     test::reader(), Progress());
    ASSERT_TRUE(written) << written.error().message;
    EXPECT_EQ(written->route, imprint::Route::direct); // nothing crosses an edge
    EXPECT_LT(written->volume_mm3, strip->blank_mm3);
    EXPECT_NEAR(test::read_part(folder / "strip.step")->volume_mm3(), written->volume_mm3, 1e-6 * strip->blank_mm3);
}

TEST(TestStrip, ItsJobIsBoundToTheStripWithoutMarks) {
    const auto strip = strip_for(profile("fff-0.4"), Progress());
    ASSERT_TRUE(strip);
    const test::ScratchFolder folder;
    const Status written =
        write_strip_job(*strip, folder / "blank.step", folder / "strip.job.json", test::reader(), Progress());
    ASSERT_TRUE(written) << written.error().message;
    const auto job = job::load_job(folder / "strip.job.json");
    ASSERT_TRUE(job) << job.error().message;
    EXPECT_EQ(job->marks.size(), strip->job.marks.size());
    EXPECT_EQ(job->part.file, folder / "blank.step");
    EXPECT_TRUE(job::rebind(*job, *test::read_part(job->part.file)).lost.empty());
}

TEST(TestStrip, OfItsBarsAloneABareReaderFindsTheVolumeByHand) {
    const process::Process& process = profile("fff-0.4");
    auto strip = strip_for(process, Progress());
    ASSERT_TRUE(strip);
    double expected = strip->blank_mm3;
    std::erase_if(strip->job.marks, [&](const job::Mark& mark) {
        const auto item = std::ranges::find(strip->items, mark.name, &Item::name);
        if (item == strip->items.end() || (item->kind != Kind::stroke && item->kind != Kind::gap)) return true;
        const double wide = item->kind == Kind::gap ? 2 * bar_width_mm(process) : item->size_mm;
        expected += (item->mode == Mode::raise ? 1 : -1) * wide * bar_length_mm(process) * mark.depth.value;
        return false;
    });
    ASSERT_EQ(strip->job.marks.size(), 63U); // seven series of nine
    pipeline::Evaluator evaluator;
    const auto marked = evaluator.build(strip->job, around(*strip), Progress());
    ASSERT_TRUE(marked) << marked.error().message;
    const test::ScratchFolder folder;
    ASSERT_TRUE(deliver::write_step(*(*marked)->part, folder / "bars.step", {}, test::reader(), Progress()));
    const test::SolidFigures bare = test::read_bare(folder / "bars.step");
    EXPECT_TRUE(bare.valid);
    EXPECT_TRUE(bare.closed);
    EXPECT_EQ(bare.solids, 1);
    EXPECT_NEAR(bare.volume, expected, 1e-6 * expected);
}

} // namespace
} // namespace touchmark::fitting
