// SPDX-License-Identifier: MIT
#include "core/fitting/own_profile.h"

#include "core/fitting/outlook.h"
#include "core/fitting/sentences.h"
#include "tests/core/fitting/shop.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace touchmark::fitting {
namespace {

using testing::HasSubstr;

/// As if found: two figures determined, one not, a wedge, and what a series shows.
Fit found() {
    Fit out{.base = standard(), .figures = {}};
    out.figures = {{"printing.bead_spread", "Bead spread", "mm", 0.1, 0.071, 0.063, 0.08, 40, ""},
                   {"printing.least_line", "Smallest stroke", "mm", 0.5, {}, 0, 0.31, 9, "All come out."},
                   {"printing.attenuation", "Attenuation", "1/mm", 1, 1.4, 1.35, 1.45, 6, ""}};
    out.wedge = WedgeFit{.steps = {{0.4, -0.25}, {1.2, -0.75}}, .attenuation_per_mm = 1.4};
    out.series = {{'A', Threshold{0.452, 0.04, 0.41, 0.49}, 0.48, 0.43},
                  {'F', Threshold{0.3, 0.04, 0, 0.3, true, false}, 0.5, 0.5},
                  {'G', Threshold{0.28, 0.03, 0.25, 0.31}, 0.33, 0.29}};
    return out;
}

TEST(OwnProfile, SaysOnlyWhatWasFittedAndWhereItComesFrom) {
    const process::Derivation own = own_profile(found(), "Hall 2, printer 7", Limits::stay);
    EXPECT_EQ(own.based_on, "fff-0.4");
    ASSERT_EQ(own.figures.size(), 2U);
    EXPECT_EQ(own.figures[0].key, "printing.bead_spread");
    EXPECT_FALSE(own.figures[0].figure.assumed);
    EXPECT_THAT(own.figures[0].figure.source,
                testing::AllOf(HasSubstr("test strip"), HasSubstr("0.063 to 0.080 mm"), HasSubstr("40 rows")));
    // Written, read and put on the base it is what was fitted.
    const auto text = process::profile_json(own);
    ASSERT_TRUE(text) << text.error().message;
    const auto back = process::parse_derivation(*text);
    ASSERT_TRUE(back) << back.error().message;
    const auto whole = process::derived(standard(), *back, "own");
    ASSERT_TRUE(whole) << whole.error().message;
    EXPECT_EQ(whole->title, "Hall 2, printer 7");
    EXPECT_DOUBLE_EQ(whole->printing->bead_spread_mm.value, 0.071);
    EXPECT_DOUBLE_EQ(whole->printing->least_line_mm.value, 0.5);
    ASSERT_EQ(whole->printing->wedge.size(), 2U);
    EXPECT_EQ(whole->printing->wedge[1].log_transmission, -0.75);
    EXPECT_EQ(whole->limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value,
              standard().limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value);
}

TEST(OwnProfile, TakesLimitsFromTheSeriesThatShowBothSides) {
    const auto whole = process::derived(standard(), own_profile(found(), "Own", Limits::by_strip), "own");
    ASSERT_TRUE(whole) << whole.error().message;
    const process::Limit* cut = whole->limit("stroke_width", Mode::engrave, Zone::side_wall);
    EXPECT_DOUBLE_EQ(cut->hard.value, 0.46);        // rounded up
    EXPECT_DOUBLE_EQ(cut->comfortable.value, 0.52); // 0.452 + 1.645 × 0.04: 95 % of a normal distribution
    EXPECT_DOUBLE_EQ(whole->limit("gap_width", Mode::raise, Zone::top)->hard.value, 0.28);
    EXPECT_EQ(whole->limit("stroke_width", Mode::raise, Zone::top)->hard.value,
              standard().limit("stroke_width", Mode::raise, Zone::top)->hard.value);
    EXPECT_EQ(whole->limit("stroke_width", Mode::engrave, Zone::top)->hard.value,
              standard().limit("stroke_width", Mode::engrave, Zone::top)->hard.value);
}

TEST(Outlook, HoldsTextsAndCodesAgainstTheFittedPrint) {
    const std::vector<Item> items = items_of(standard());
    Sheet sheet;
    for (std::size_t i = 0; i < items.size(); ++i)
        if (items[i].name == "D1" || items[i].name == "D5" || items[i].name == "M1" || items[i].name == "A9")
            sheet.seen.push_back({i, i + 1, 2, items[i].name == "D1" ? 0 : 2});
    Fit wide{.base = standard(), .figures = {}};
    // Lines that spread by half their width fill in small letters.
    wide.figures = {{"printing.bead_spread", "Bead spread", "mm", 0.1, 0.25, 0.2, 0.3, 40, ""}};
    const auto fonts = content::FontLibrary::system();
    ASSERT_TRUE(fonts);
    const auto all = outlook(wide, items, sheet, **fonts, Progress());
    ASSERT_TRUE(all) << all.error().message;
    ASSERT_EQ(all->size(), 3U); // strokes are not held against it: they were fitted
    EXPECT_EQ((*all)[0].fitted, print::Verdict::lost);
    EXPECT_TRUE((*all)[0].as_seen(print::Verdict::lost));
    EXPECT_FALSE((*all)[0].as_seen(print::Verdict::reads));
    EXPECT_EQ((*all)[1].base, print::Verdict::reads);
    EXPECT_TRUE((*all)[1].as_seen(print::Verdict::reads));
    EXPECT_THAT(outlook_text(*all), HasSubstr("Of 3 texts and codes"));
    EXPECT_TRUE(outlook_text({}).empty());
    EXPECT_TRUE(surprises(std::span(*all).first(1), items).empty());
    const std::vector<Outlook> wrong{{0, 1, 4, 3, print::Verdict::reads, print::Verdict::lost}};
    EXPECT_EQ(surprises(wrong, items)[0], "A1: came out 3 of 4, by the fitted profile it is lost.");
    Progress progress;
    progress.cancel();
    EXPECT_EQ(outlook(wide, items, sheet, **fonts, progress).error().code, cancelled_code);
}

TEST(Sentences, SayWhatChangesAndWhatStays) {
    const Fit fit = found();
    EXPECT_EQ(change_text(fit.figures[0]), "0.100 → 0.071 mm");
    EXPECT_EQ(grounds_text(fit.figures[0]), "95 % from 0.063 to 0.080 mm, 40 rows");
    EXPECT_EQ(change_text(fit.figures[1]), "stays 0.500 mm");
    EXPECT_EQ(grounds_text(fit.figures[1]), "All come out.");
    EXPECT_EQ(seen_text(fit.series[0]), "0.45 mm (0.41 to 0.49)");
    EXPECT_EQ(seen_text(fit.series[1]), "below 0.30 mm");
    EXPECT_THAT(wedge_text(fit), HasSubstr("2 steps"));
    EXPECT_TRUE(scatter_text(fit).empty());
}

} // namespace
} // namespace touchmark::fitting
