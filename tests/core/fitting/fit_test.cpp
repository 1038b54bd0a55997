// SPDX-License-Identifier: MIT
#include "core/fitting/fit.h"

#include "core/fitting/likelihood.h"
#include "tests/core/fitting/shop.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace touchmark::fitting {
namespace {

using testing::HasSubstr;

const Nature& nature() {
    static const Nature one{.figures = {0.07, 0.2, 0.45}};
    return one;
}
const Shop& shop() {
    static const Shop one(standard(), nature());
    return one;
}
Sheet sheet(unsigned seed = 1) {
    std::mt19937 chance(seed);
    return shop().sheet(chance);
}
/// Of all that a sheet of the shop speaks of.
const PrintModel& model() {
    static const PrintModel one = PrintModel::of(standard(), shop().items(), sheet().seen, Progress()).value();
    return one;
}
Fit fit(const Sheet& of) {
    auto done = fit_sheet(model(), standard(), shop().items(), of);
    if (!done) throw std::runtime_error(done.error().message);
    return *std::move(done);
}
const FittedFigure& figure(const Fit& of, std::string_view key) {
    return *std::ranges::find(of.figures, key, &FittedFigure::key);
}

TEST(Fit, FindsTheFiguresOfAShop) {
    const Fit found = fit(sheet());
    const auto holds = [&](std::string_view key, double truth, double widest) {
        const FittedFigure& one = figure(found, key);
        ASSERT_TRUE(one.value) << one.why;
        EXPECT_LE(one.low, truth) << key;
        EXPECT_GE(one.high, truth) << key;
        EXPECT_LE(one.low, *one.value) << key;
        EXPECT_GE(one.high, *one.value) << key;
        EXPECT_LT(one.high - one.low, widest) << key;
        EXPECT_GT(one.high - one.low, widest / 10) << key;
    };
    holds("printing.bead_spread", 0.07, 0.04);
    holds("printing.first_layer_spread", 0.2, 0.08);
    holds("printing.least_line", 0.45, 0.12);
    EXPECT_NEAR(found.scatter_mm, nature().reading_mm, 0.012);
    EXPECT_FALSE(figure(found, "printing.attenuation").value);
    EXPECT_DOUBLE_EQ(found.fitted().printing->bead_spread_mm.value, *figure(found, "printing.bead_spread").value);
    EXPECT_DOUBLE_EQ(found.fitted().printing->attenuation_per_mm.value, standard().printing->attenuation_per_mm.value);
}

TEST(Fit, IntervalsHoldTheTruthAsOftenAsTheySay) {
    // 95 of 100; of 200 shops two standard deviations to either side are 184 to 196. What lies between the nodes of the
    // tables, and thresholds that are as sharp as can be, leave a little more room.
    constexpr int shops = 200;
    const std::array<std::pair<Unknown, double>, 3> truth{
        {{Unknown::bead_spread, nature().figures.bead_spread},
         {Unknown::first_layer_spread, nature().figures.first_layer_spread},
         {Unknown::least_line, nature().figures.least_line}}};
    std::array<int, 3> held{};
    for (unsigned seed = 1; seed <= shops; ++seed) {
        const Sheet one = sheet(seed);
        const Likelihood likelihood(model(), figures_of(standard()), standard().line_width_mm.value, shop().items(),
                                    one.seen);
        const Search search = likelihood.search();
        const Search::Found best = search.best(likelihood.start());
        for (std::size_t k = 0; k < truth.size(); ++k)
            held[k] += search.excess(best, static_cast<std::size_t>(truth[k].first), truth[k].second) <=
                       likelihood.critical(truth[k].first);
    }
    for (const int of : held) {
        EXPECT_GE(of, 180);
        EXPECT_LE(of, 200);
    }
}

TEST(Fit, MoreStripsTellMore) {
    Nature many = nature();
    many.strips *= 9;
    std::mt19937 chance(3);
    Sheet counted = Shop(standard(), many).sheet(chance), few = sheet(3);
    for (Sheet* one : {&counted, &few})
        for (Seen& seen : one->seen)
            seen.measured_mm.clear();
    const auto width = [](const Fit& of) {
        return figure(of, "printing.bead_spread").high - figure(of, "printing.bead_spread").low;
    };
    // The square root of nine.
    EXPECT_NEAR(width(fit(few)) / width(fit(counted)), 3, 1.2);
}

TEST(Fit, WhatTheSheetDoesNotDetermineStaysAsItWas) {
    Sheet only = sheet();
    std::erase_if(only.seen, [](const Seen& seen) { return shop().items()[seen.item].name.front() != 'F'; });
    for (Seen& seen : only.seen)
        seen.measured_mm.clear(), seen.came_out = seen.printed;
    const Fit all_there = fit(only);
    for (const FittedFigure& one : all_there.figures) {
        EXPECT_FALSE(one.value) << one.key;
        EXPECT_FALSE(one.why.empty()) << one.key;
    }
    EXPECT_THAT(figure(all_there, "printing.least_line").why, HasSubstr("at most"));
    EXPECT_THAT(figure(all_there, "printing.bead_spread").why, HasSubstr("Nothing in the sheet"));
    EXPECT_EQ(figures_of(all_there.fitted()).least_line, standard().printing->least_line_mm.value);

    for (Seen& seen : only.seen)
        seen.came_out = 0;
    EXPECT_THAT(figure(fit(only), "printing.least_line").why, HasSubstr("at least"));

    // One row says hardly anything.
    only.seen.resize(1);
    only.seen[0] = sheet().seen.front();
    only.seen[0].measured_mm.clear();
    only.seen[0].printed = only.seen[0].came_out = 1;
    EXPECT_FALSE(figure(fit(only), "printing.bead_spread").value);
}

TEST(Fit, WidthsAloneGiveTheSpreads) {
    Sheet only = sheet();
    for (Seen& seen : only.seen)
        seen.printed = seen.came_out = 0;
    const Fit found = fit(only);
    EXPECT_NEAR(figure(found, "printing.bead_spread").value.value(), 0.07, 0.02);
    EXPECT_NEAR(figure(found, "printing.first_layer_spread").value.value(), 0.2, 0.03);
    EXPECT_FALSE(figure(found, "printing.least_line").value);
}

TEST(Fit, SaysWhereCountsAndWidthsDisagree) {
    Sheet odd = sheet();
    for (Seen& seen : odd.seen)
        for (double& mm : seen.measured_mm)
            mm += shop().items()[seen.item].mode == Mode::raise && shop().items()[seen.item].kind == Kind::stroke
                      ? 0.3
                      : -0.3;
    EXPECT_THAT(fit(odd).notes, testing::Contains(HasSubstr("do not agree")));
    EXPECT_THAT(fit(sheet()).notes, testing::Not(testing::Contains(HasSubstr("do not agree"))));
}

TEST(Fit, NamesARowThatCannotBe) {
    Sheet odd = sheet();
    const auto row =
        std::ranges::find_if(odd.seen, [](const Seen& seen) { return shop().items()[seen.item].name == "E9"; });
    row->came_out = 0;
    EXPECT_THAT(fit(odd).notes, testing::Contains(HasSubstr("E9")));
    EXPECT_THAT(fit(sheet()).notes, testing::Not(testing::Contains(HasSubstr("E9"))));
}

TEST(Fit, OfNothingIsRefused) {
    EXPECT_EQ(fit_sheet(standard(), shop().items(), {}, Progress()).error().code, "fitting.nothing");
    process::Process other = standard();
    other.printing.reset();
    EXPECT_EQ(fit_sheet(other, shop().items(), sheet(), Progress()).error().code, "print.no_figures");
}

} // namespace
} // namespace touchmark::fitting
