// SPDX-License-Identifier: MIT
#include "core/content/face_measures.h"

#include "core/geometry/width.h"
#include "tests/core/content/lettering.h"
#include "tests/support/scratch_folder.h"

#include <gtest/gtest.h>

#include <fstream>

namespace touchmark::content {
namespace {

FaceMeasure measured(std::string_view family, int weight = 700) {
    const Progress progress;
    const auto result = measure(test::fonts().find(family, weight).value(), progress);
    EXPECT_TRUE(result) << family;
    return result.value_or(FaceMeasure{});
}

TEST(FaceMeasure, IsThatOfItsCapitalsAndFiguresDrawnOneByOne) {
    const FaceMeasure all = measured("Liberation Sans");
    double stroke = 1e9, gap = 1e9;
    std::size_t holes = 0;
    for (const char c : std::string("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789")) {
        const Drawn letter = test::drawn(std::string(1, c), "Liberation Sans", 20);
        const geometry::Widths widths = geometry::widths(letter.outline);
        if (!widths.strokes.empty()) stroke = std::min(stroke, widths.strokes.front().width);
        if (!widths.gaps.empty()) gap = std::min(gap, widths.gaps.front().width);
        for (const geometry::Region& region : letter.outline.regions)
            holes += region.holes.size();
    }
    EXPECT_NEAR(all.stroke, stroke / 20, 1e-3);
    EXPECT_NEAR(all.gap, gap / 20, 1e-3);
    EXPECT_EQ(all.islands, static_cast<int>(holes));
    EXPECT_EQ(all.islands, 14) << "A B B D O P Q R, 0 4 6 8 8 9 by counting";
}

TEST(FaceMeasure, TellsHeavyFromLightAndPlainFromFine) {
    EXPECT_GT(measured("DejaVu Sans", 700).stroke, 1.3 * measured("DejaVu Sans", 400).stroke);
    EXPECT_GT(measured("DejaVu Sans", 700).stroke, measured("DejaVu Serif", 400).stroke) << "serifs are hairlines";
    const FaceMeasure one{.stroke = 0.1, .gap = 0.2};
    EXPECT_DOUBLE_EQ(least_cap_height(one, 0.5, 0.5), 5) << "its strokes decide";
    EXPECT_DOUBLE_EQ(least_cap_height(one, 0.5, 2), 10) << "its gaps decide";
}

TEST(FaceMeasures, AreKeptFromOneRunToTheNext) {
    const test::ScratchFolder folder;
    const auto file = folder / "cache" / "faces";
    const FontFace bold = test::fonts().find("DejaVu Sans", 700).value();
    const FontFace thai = test::fonts().find("Noto Sans Thai", 700).value();
    const Progress progress;
    Result<FaceMeasure> fresh{FaceMeasure{}};
    {
        FaceMeasures measures(file);
        EXPECT_FALSE(measures.known(bold));
        fresh = measures.of(bold, progress);
        ASSERT_TRUE(fresh);
        EXPECT_TRUE(measures.known(bold));
        EXPECT_EQ(measures.of(thai, progress).has_value(), measure(thai, progress).has_value());
        EXPECT_TRUE(measures.save());
    }
    const FaceMeasures again(file);
    ASSERT_TRUE(again.known(bold));
    EXPECT_NEAR((*again.known(bold))->stroke, fresh->stroke, 1e-8);
    EXPECT_EQ((*again.known(bold))->islands, fresh->islands);
    EXPECT_TRUE(again.known(thai)) << "what cannot be measured is not tried again";
    FontFace set = bold;
    set.settings = {{"wght", 650}};
    EXPECT_FALSE(again.known(set)) << "another place of a variable font is another face";

    std::ofstream(file) << "touchmark faces 1\nnonsense\n\t\nx\tone two\ny\t-1 -1 0\n";
    EXPECT_FALSE(FaceMeasures(file).known(bold)) << "a damaged file is as none";
    Progress cancelled;
    cancelled.cancel();
    FaceMeasures none{std::filesystem::path()};
    EXPECT_EQ(none.of(bold, cancelled).error().code, cancelled_code);
    EXPECT_FALSE(none.known(bold));
}

} // namespace
} // namespace touchmark::content
