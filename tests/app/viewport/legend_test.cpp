// SPDX-License-Identifier: MIT
#include "app/viewport/legend.h"

#include "core/process/process.h"
#include "tests/app/viewport/shapes.h"

#include <QApplication>
#include <gmock/gmock.h>

namespace touchmark::viewport {
namespace {

process::Process profile() {
    return *process::load_process(std::string(TOUCHMARK_RESOURCES) + "/processes/fff-0.4.json");
}

TEST(Legend, HasALineInWordsForEveryZoneBestFirst) {
    for (const Mode mode : modes) {
        const auto entries = legend_entries(profile(), mode);
        ASSERT_EQ(entries.size(), zones.size());
        if (mode == Mode::engrave || mode == Mode::raise) {
            EXPECT_EQ(entries.front().zone, Zone::side_wall); // common practice: side walls take marks best
            EXPECT_EQ(entries.back().zone, Zone::bottom);
            EXPECT_TRUE(entries.back().hatched);
        }
        // Common practice, no source: on the bottom hide the mark inside.
        if (mode == Mode::hidden) {
            EXPECT_FALSE(std::ranges::find(entries, Zone::bottom, &LegendEntry::zone)->hatched);
        }
        for (std::size_t i = 0; i < entries.size(); ++i) {
            EXPECT_FALSE(entries[i].title.isEmpty());
            EXPECT_FALSE(entries[i].verdict.isEmpty()) << entries[i].reason.toStdString();
            EXPECT_TRUE(entries[i].reason.startsWith(entries[i].verdict, Qt::CaseInsensitive));
            if (i > 0) {
                EXPECT_LE(entries[i].suitability, entries[i - 1].suitability);
            }
        }
    }
}

TEST(Legend, IsThereOnlyWhileThePartIsShaded) {
    Legend legend;
    legend.set_process(profile(), Mode::engrave);
    EXPECT_GT(legend.sizeHint().height(), 60);
    EXPECT_THAT(legend.accessibleDescription().toStdString(), testing::HasSubstr("Side wall"));
    legend.set_process(profile(), std::nullopt);
    EXPECT_FALSE(legend.isVisible());
}

} // namespace
} // namespace touchmark::viewport
