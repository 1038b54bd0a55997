// SPDX-License-Identifier: MIT
#include "core/run/counts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::run {
namespace {

std::optional<ByEvent<double>> marks(std::string_view name) {
    if (name != "Part number") return std::nullopt;
    return ByEvent<double>{1, 2, 3, 4, 5, 6};
}

Result<Counts> counts_of(std::string csv) {
    const auto table = content::Table::read("counts.csv", std::move(csv));
    EXPECT_TRUE(table);
    return read_counts(**table, marks);
}
std::string error_of(std::string csv) {
    const auto counts = counts_of(std::move(csv));
    return counts ? "" : counts.error().code + ": " + counts.error().message;
}

TEST(Counts, ByEventAreATallyARow) {
    const Counts counts = counts_of("event,printed,rejected,hall\ntravel,1e6,3,A\nledge, 250.5 ,0,B\n").value();
    ASSERT_EQ(counts.tallies.size(), 2U);
    EXPECT_EQ(counts.tallies[0].event, Event::travel);
    EXPECT_EQ(counts.tallies[0].printed, 1e6);
    EXPECT_EQ(counts.tallies[0].rejected, 3);
    EXPECT_EQ(counts.tallies[1].event, Event::ledge);
    EXPECT_EQ(counts.tallies[1].printed, 250.5);
    EXPECT_TRUE(counts.lots.empty());
    EXPECT_THAT(counts.ignored, testing::ElementsAre("hall"));
}

TEST(Counts, ByLotSayWhatOneUnitHas) {
    const Counts counts = counts_of("printed;rejected;travel;outline;plain_part\n40000;9;12;0.25;1\n").value();
    ASSERT_EQ(counts.lots.size(), 1U);
    EXPECT_EQ(counts.lots[0].printed, 40'000);
    EXPECT_EQ(counts.lots[0].rejected, 9);
    EXPECT_EQ(counts.lots[0].events[index_of(Event::travel)], 12);
    EXPECT_EQ(counts.lots[0].events[index_of(Event::outline)], 0.25);
    EXPECT_EQ(counts.lots[0].events[index_of(Event::ledge)], 0);
    EXPECT_TRUE(counts.lots[0].plain_part);
    EXPECT_TRUE(counts.ignored.empty());
}

TEST(Counts, ByMarkTakeWhatTheMarkHas) {
    const Counts counts = counts_of("mark,printed,rejected\nPart number,500,1\n").value();
    ASSERT_EQ(counts.lots.size(), 1U);
    EXPECT_EQ(counts.lots[0].events, marks("Part number").value());
    EXPECT_FALSE(counts.lots[0].plain_part);
}

TEST(Counts, AreRefusedWithTheRowAndColumnThatIsWrong) {
    using testing::AllOf;
    using testing::HasSubstr;
    EXPECT_THAT(error_of("event,printed\ntravel,5\n"), HasSubstr("\"rejected\""));
    EXPECT_THAT(error_of("printed,rejected\n5,0\n"), HasSubstr("\"event\""));
    EXPECT_THAT(error_of("event,mark,printed,rejected\ntravel,x,5,0\n"), HasSubstr("by event and by lot"));
    EXPECT_THAT(error_of("mark,travel,printed,rejected\nPart number,2,5,0\n"), HasSubstr("one of the two"));
    EXPECT_THAT(error_of("event,printed,rejected\ntravel,5,0\ntravels,5,0\n"),
                AllOf(HasSubstr("row 2"), HasSubstr("travels"), HasSubstr("retraction")));
    EXPECT_THAT(error_of("event,printed,rejected\ntravel,5,6\n"), HasSubstr("more than were printed"));
    EXPECT_THAT(error_of("event,printed,rejected\ntravel,-5,0\n"), HasSubstr("\"-5\""));
    EXPECT_THAT(error_of("event,printed,rejected\ntravel,5 000,0\n"), HasSubstr("\"5 000\""));
    EXPECT_THAT(error_of("event,printed,rejected\ntravel,nan,0\n"), HasSubstr("\"nan\""));
    EXPECT_THAT(error_of("mark,printed,rejected\nLot,5,0\n"), HasSubstr("\"Lot\""));
    EXPECT_THAT(error_of("travel,printed,rejected,plain_part\n2,5,0,2\n"), HasSubstr("neither 0 nor 1"));
}

} // namespace
} // namespace touchmark::run
