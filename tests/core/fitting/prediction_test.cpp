// SPDX-License-Identifier: MIT
#include "core/fitting/prediction.h"

#include "core/print/fidelity.h"
#include "tests/core/fitting/shop.h"

#include <gtest/gtest.h>

namespace touchmark::fitting {
namespace {

Item named(std::string_view name) {
    for (const Item& item : items_of(standard()))
        if (item.name == name) return item;
    throw std::runtime_error("no such item");
}
print::Printed printed(const Item& item, const Figures& figures) {
    return print_bar(item, with_figures(standard(), figures), Progress()).value();
}

TEST(Bar, OnTopIsNarrowerOrWiderByTheBeadsSpreadOnEachSide) {
    // A Gaussian moves no edge of a wide bar at half its height, by symmetry.
    for (const double spread : {0.0, 0.06, 0.15}) {
        const Figures figures{spread, 0.15, 0.4};
        EXPECT_NEAR(width_of(printed(named("E9"), figures), named("E9")), 1.18 - 2 * spread, 0.012);
        EXPECT_NEAR(width_of(printed(named("F9"), figures), named("F9")), 1.18 + 2 * spread, 0.012);
        EXPECT_NEAR(width_of(printed(named("G9"), figures), named("G9")), 0.84 - 2 * spread, 0.012);
    }
}

TEST(Bar, OnThePlateIsNarrowerByTheFirstLayersSpread) {
    // The first layer is a third of the depth or more: at half the depth it and those above count. Of equal spreads
    // it is as on top.
    const Figures alike{0.1, 0.1, 0.5};
    EXPECT_NEAR(width_of(printed(named("L9"), alike), named("L9")), 1.18 - 0.2, 0.012);
    const Figures pressed{0.0, 0.2, 0.5};
    EXPECT_NEAR(width_of(printed(named("L9"), pressed), named("L9")), 1.18 - 0.4, 0.012);
}

TEST(Bar, ThatIsTooThinIsNotThere) {
    const Figures figures{0.1, 0.15, 0.5};
    for (const char* name : {"F3", "L2"}) {
        EXPECT_LT(share_along(printed(named(name), figures), named(name)), 0.3) << name;
        EXPECT_EQ(width_of(printed(named(name), figures), named(name)), 0) << name;
    }
}

TEST(PrintModel, SaysWhatTheJudgeOfLettersSays) {
    // Thresholds and widths at figures off its nodes, against the simulated print itself there.
    const Nature nature{.figures = {0.083, 0.19, 0.44}};
    const Shop shop(standard(), nature);
    std::mt19937 chance(5);
    const Sheet sheet = shop.sheet(chance);
    const auto model = PrintModel::of(standard(), shop.items(), sheet.seen, Progress());
    ASSERT_TRUE(model);
    for (const Seen& seen : sheet.seen) {
        const Item& item = shop.items()[seen.item];
        EXPECT_NEAR(model->threshold(item.name.front(), nature.figures), shop.threshold(item.name.front()), 0.02)
            << item.name;
        if (!seen.measured_mm.empty()) {
            EXPECT_NEAR(model->width(seen.item, nature.figures), shop.width(seen.item), 0.012) << item.name;
        }
    }
}

TEST(PrintModel, CanBeCancelled) {
    Progress progress;
    progress.cancel();
    const std::vector<Item> items = items_of(standard());
    const std::vector<Seen> seen{{0, 1, 1, 1}};
    EXPECT_EQ(PrintModel::of(standard(), items, seen, progress).error().code, cancelled_code);
}

} // namespace
} // namespace touchmark::fitting
