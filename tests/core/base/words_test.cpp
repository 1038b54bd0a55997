// SPDX-License-Identifier: MIT
#include "core/base/words.h"

#include <gtest/gtest.h>

#include <set>

namespace touchmark {
namespace {

TEST(Words, EveryModeAndZoneHasItsKeyAndTitle) {
    std::set<std::string_view> keys;
    for (const Mode mode : modes) {
        EXPECT_EQ(mode_from(key_of(mode)), mode);
        EXPECT_FALSE(title_of(mode).empty());
        EXPECT_TRUE(keys.insert(key_of(mode)).second);
    }
    for (const Zone zone : zones) {
        EXPECT_EQ(zone_from(key_of(zone)), zone);
        EXPECT_FALSE(title_of(zone).empty());
        EXPECT_TRUE(keys.insert(key_of(zone)).second);
    }
    EXPECT_EQ(keys.size(), modes.size() + zones.size());
}

TEST(Words, UnknownKeysNameNothing) {
    EXPECT_EQ(mode_from("Engrave"), std::nullopt) << "keys are lower case";
    EXPECT_EQ(mode_from(""), std::nullopt);
    EXPECT_EQ(zone_from("side wall"), std::nullopt);
}

TEST(Words, KeysAreThoseOfTheCommandLine) {
    EXPECT_EQ(key_of(Mode::engrave), "engrave");
    EXPECT_EQ(key_of(Zone::side_wall), "side_wall");
    EXPECT_EQ(title_of(Zone::side_wall), "Side wall");
}

} // namespace
} // namespace touchmark
