// SPDX-License-Identifier: MIT
#include "core/fitting/threshold.h"

#include <gtest/gtest.h>

#include <array>

namespace touchmark::fitting {
namespace {

TEST(Threshold, IsTheProbitsOfBlissesBeetles) {
    // C. I. Bliss, Ann. Appl. Biol. 22, 1935: beetles killed by carbon disulphide, log10 of the dose in mg/l; as
    // A. J. Dobson prints it, "An Introduction to Generalized Linear Models", there with the probit fit
    // -34.94 + 19.73 x, so that half die at 1.771 (all from memory).
    constexpr std::array rows{Counted{1.6907, 59, 6},  Counted{1.7242, 60, 13}, Counted{1.7552, 62, 18},
                              Counted{1.7842, 56, 28}, Counted{1.8113, 63, 52}, Counted{1.8369, 59, 53},
                              Counted{1.8610, 62, 61}, Counted{1.8839, 60, 60}};
    const auto found = threshold_of(rows, 1e-3, 0);
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->size, 34.94 / 19.73, 5e-4);
    EXPECT_NEAR(1 / found->spread, 19.73, 0.05);
    // Its 95 % interval by Fieller's theorem goes from 1.763 to 1.778 (from memory).
    EXPECT_NEAR(found->low, 1.763, 1.5e-3);
    EXPECT_NEAR(found->high, 1.778, 1.5e-3);
}

TEST(Threshold, WhereNothingIsMixedLiesInTheGap) {
    constexpr std::array rows{Counted{0.3, 3, 0}, Counted{0.4, 3, 0}, Counted{0.5, 3, 3}, Counted{0.6, 3, 3}};
    const auto found = threshold_of(rows, 0.01, usual_slip);
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->size, 0.45, 0.01);
    EXPECT_NEAR(found->low, 0.4, 0.03);
    EXPECT_NEAR(found->high, 0.5, 0.03);
    EXPECT_FALSE(found->low_open || found->high_open);
}

TEST(Threshold, WhereAllOrNoneCameOutIsOpenOnOneSide) {
    constexpr std::array all{Counted{0.3, 3, 3}, Counted{0.4, 3, 3}}, none{Counted{0.3, 3, 0}, Counted{0.4, 3, 0}};
    EXPECT_TRUE(threshold_of(all, 0.01, usual_slip)->low_open);
    EXPECT_FALSE(threshold_of(all, 0.01, usual_slip)->high_open);
    EXPECT_TRUE(threshold_of(none, 0.01, usual_slip)->high_open);
    EXPECT_FALSE(threshold_of({}, 0.01, usual_slip));
}

TEST(Threshold, OneSlipDoesNotDecide) {
    std::vector<Counted> rows;
    for (int i = 2; i <= 12; ++i)
        rows.push_back({0.1 * i, 10, i > 5 ? 10 : 0});
    const double clean = threshold_of(rows, 0.01, usual_slip)->size;
    rows.back().came_out = 9; // a strip that fell down
    EXPECT_NEAR(threshold_of(rows, 0.01, usual_slip)->size, clean, 0.01);
    EXPECT_GT(std::abs(threshold_of(rows, 0.01, 0)->size - clean), 0.01); // without it, it would
}

} // namespace
} // namespace touchmark::fitting
