// SPDX-License-Identifier: MIT
#include "app/window/actions.h"

#include "app/window/finder.h"

#include <gtest/gtest.h>
#include <set>

namespace touchmark::window {
namespace {

TEST(Actions, EachIdAndEachShortcutIsUsedOnce) {
    std::set<std::string_view> ids, shortcuts;
    for (const ActionRow& row : action_rows()) {
        if (row.id == "-") continue;
        EXPECT_TRUE(ids.insert(row.id).second) << row.id;
        if (!row.shortcut.empty()) {
            EXPECT_TRUE(shortcuts.insert(row.shortcut).second) << row.shortcut;
        }
    }
}

TEST(Actions, EveryActionReachesSomething) {
    QMainWindow window;
    const Actions actions(window);
    EXPECT_EQ(actions.all().size(),
              static_cast<std::size_t>(std::ranges::count_if(
                  action_rows(), [](const ActionRow& row) { return row.id != "-" && !row.title.empty(); })));
    for (const QAction* action : actions.all()) {
        EXPECT_FALSE(action->text().isEmpty());
        EXPECT_FALSE(action->toolTip().isEmpty());
    }
}

TEST(Finder, MatchesTheBeginningsOfWordsInAnyOrder) {
    EXPECT_TRUE(Finder::matches("", "Turn left A quarter turn"));
    EXPECT_TRUE(Finder::matches("left tu", "Turn left A quarter turn"));
    EXPECT_TRUE(Finder::matches("QUART", "Turn left A quarter turn"));
    EXPECT_FALSE(Finder::matches("eft", "Turn left A quarter turn"));
    EXPECT_FALSE(Finder::matches("left right", "Turn left A quarter turn"));
}

} // namespace
} // namespace touchmark::window
