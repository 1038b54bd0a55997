// SPDX-License-Identifier: MIT
#include "tests/core/job/random_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;
using testing::HasSubstr;

bool is_number(const Parameter& row) {
    return row.kind == Kind::length || row.kind == Kind::angle || row.kind == Kind::factor;
}

TEST(Parameters, ComeInThePanelsOrder) {
    std::vector<std::string_view> keys;
    for (const Parameter& row : parameters())
        keys.push_back(row.key);
    EXPECT_THAT(keys, testing::ElementsAre(
                          "text", "kind", "mode", "depth", "cover", "bridges", "bridge_width", "map", "floor", "draft",
                          "floor_rounding", "cap_height", "fit_width", "fit", "weight", "family", "axes",
                          "letter_spacing", "line_spacing", "align", "heavier", "arc_radius", "features", "symbology",
                          "module", "bar_height", "correction", "shape", "symbol_size", "marked_modules", "grooves",
                          "readable_line", "drawing", "scaled_by", "size", "reading_distance", "at_x", "at_y", "turn"));
}

TEST(Parameters, AreWhole) {
    std::set<std::string_view> options;
    for (const Parameter& row : parameters()) {
        EXPECT_EQ(parameter(row.key), &row);
        EXPECT_FALSE(row.title.empty()) << row.key;
        EXPECT_TRUE(row.help.size() > 20 && row.help.ends_with(".")) << row.key;
        EXPECT_TRUE(row.get && row.set) << row.key;
        EXPECT_TRUE(check_value(row, row.standard)) << row.key;
        if (is_number(row)) {
            EXPECT_LT(row.least, row.most) << row.key;
            EXPECT_GT(row.step, 0) << row.key;
            EXPECT_TRUE(!row.unit.empty() || row.step == 1) << row.key << ": only a count has no unit";
        }
        EXPECT_EQ(row.kind == Kind::choice, !row.choices.empty()) << row.key;
        if (!row.option.empty()) {
            EXPECT_TRUE(row.option.starts_with("--")) << row.key;
            EXPECT_TRUE(options.insert(row.option).second) << row.key;
        }
    }
    EXPECT_EQ(parameter("colour"), nullptr);
}

TEST(Parameters, StandardIsWhatAFreshMarkHas) {
    for (const Parameter& row : parameters())
        if (row.key == "text")
            EXPECT_EQ(row.get(Mark{}), row.standard);
        else
            EXPECT_EQ(row.get(test::mark_that_has(row)),
                      row.key == "symbology" ? Value(std::string("data_matrix")) : row.standard)
                << row.key;
}

/// small_job(), its first mark of a kind that has the value.
Job job_for(const Parameter& row) {
    return *set_content(test::small_job(), "m1", test::mark_that_has(row).content);
}

TEST(Parameters, GiveBackWhatWasSet) {
    for (const Parameter& row : parameters()) {
        Job job = job_for(row);
        const Value value = is_number(row) && row.unit.empty() ? Value(std::floor(row.most / 7))
                            : is_number(row)                   ? Value(row.least / 3 + row.most / 7)
                            : row.kind == Kind::choice         ? Value(std::string(row.choices.back().first))
                                                               : Value(std::string("Größe"));
        const Result<Job> edited = set_parameter(job, "m1", row.key, value);
        ASSERT_TRUE(edited) << row.key << ": " << edited.error().message;
        EXPECT_NE(*edited, job) << row.key;
        EXPECT_EQ(edited->marks[1], job.marks[1]) << row.key;
        job = *edited;
        EXPECT_EQ(row.get(job.marks[0]), value) << row.key;
    }
}

TEST(Parameters, TakeTheirRangesEndsAndNothingBeyond) {
    for (const Parameter& row : parameters()) {
        if (!is_number(row)) continue;
        const Job job = job_for(row);
        EXPECT_TRUE(set_parameter(job, "m1", row.key, row.least)) << row.key;
        EXPECT_TRUE(set_parameter(job, "m1", row.key, row.most)) << row.key;
        for (const double beyond : {std::nextafter(row.least, -1e9), std::nextafter(row.most, 1e9)}) {
            const Result<Job> edited = set_parameter(job, "m1", row.key, beyond);
            ASSERT_FALSE(edited) << row.key;
            EXPECT_EQ(edited.error().code, "job.out_of_range");
            EXPECT_THAT(edited.error().message, HasSubstr(std::string(row.title)));
        }
    }
}

TEST(Parameters, SayTheRangeWithItsUnit) {
    EXPECT_EQ(set_parameter(test::small_job(), "m1", "depth", 21.0).error().message,
              "Depth is 21.0 mm; it must be from 0.05 mm to 20.0 mm.");
    EXPECT_EQ(set_parameter(test::small_job(), "m1", "mode", std::string("paint")).error().message,
              "Mode cannot be \"paint\"; it is one of engrave, raise, hidden, inlay, through.");
}

TEST(Parameters, RefuseTheWrongKind) {
    for (const Parameter& row : parameters()) {
        const Job job = job_for(row);
        const Value wrong = is_number(row) ? Value(std::string("1")) : Value(1.0);
        EXPECT_EQ(set_parameter(job, "m1", row.key, wrong).error().code, "job.wrong_kind") << row.key;
    }
    EXPECT_EQ(set_parameter(test::small_job(), "m1", "colour", 1.0).error().code, "job.unknown_parameter");
}

TEST(Parameters, BelongToTheirKindOfContent) {
    const Job lettering = test::small_job();
    EXPECT_EQ(set_parameter(lettering, "m1", "module", 1.0).error().code, "job.unknown_parameter");
    const Result<Job> code = set_parameter(lettering, "m1", "kind", std::string("code"));
    ASSERT_TRUE(code);
    EXPECT_EQ(content::said_by(code->marks[0].content), "AB-12") << "what it says stays";
    EXPECT_EQ(set_parameter(*code, "m1", "cap_height", 5.0).error().code, "job.unknown_parameter");
    EXPECT_EQ(set_parameter(*code, "m1", "bar_height", 9.0).error().code, "job.unknown_parameter")
        << "a matrix has no bars";
    for (const job::Mark& mark : {lettering.marks[0], code->marks[0]}) {
        const Value size = parameter(size_key(mark.content))->get(mark);
        EXPECT_EQ(std::get<double>(size), content::size_of(mark.content).value);
        EXPECT_EQ(content::size_of(content::with_size(mark.content, Mm(2.5))), Mm(2.5));
    }
    const Result<Job> back = set_parameter(*code, "m1", "kind", std::string("text"));
    ASSERT_TRUE(back);
    EXPECT_EQ(*back, lettering);
}

TEST(Parameters, AnErrorIsLaidToTheValueItComesFrom) {
    const content::Content text = content::Text{.text = "A"}, art = content::Art{};
    content::Text fitted{.text = "A"};
    fitted.fit_width = Mm(20);
    content::Code code{.symbology = content::Symbology::qr, .message = "A"};
    EXPECT_EQ(key_to_blame("content.arc", text), "arc_radius");
    EXPECT_EQ(key_to_blame("font.axis", text), "axes");
    EXPECT_EQ(key_to_blame("content.size", text), "cap_height");
    EXPECT_EQ(key_to_blame("content.size", fitted), "fit_width");
    EXPECT_EQ(key_to_blame("content.art_empty", art), "drawing");
    EXPECT_EQ(key_to_blame("content.code_capacity", code), "text") << "the size follows the message";
    code.version = 2;
    EXPECT_EQ(key_to_blame("content.code_capacity", code), "symbol_size") << "the size was asked for";
    EXPECT_EQ(key_to_blame("content.code_message", code), "text");
    EXPECT_EQ(key_to_blame("pipeline.face_lost", text), "");
    for (const char* error : {"content.feature", "content.thinned", "content.fit", "font.not_found"})
        EXPECT_NE(parameter(key_to_blame(error, text)), nullptr) << error;
}

TEST(Parameters, SetTheWeightOfAVariableFontAmongItsAxes) {
    const Job job = *set_parameter(test::small_job(), "m1", "axes", std::string("slnt = -4,wght=650"));
    const auto& text = std::get<content::Text>(job.marks[0].content);
    EXPECT_EQ(text.weight, 650) << "the weight has a place of its own";
    EXPECT_EQ(text.axes, "slnt=-4");
    const Job odd = *set_parameter(job, "m1", "axes", std::string("nonsense"));
    EXPECT_EQ(std::get<content::Text>(odd.marks[0].content).axes, "nonsense") << "the content says what is wrong";
}

TEST(Parameters, CountCharactersNotBytes) {
    const Job job = test::small_job();
    std::string longest;
    for (int i = 0; i < 8000; ++i)
        longest += "€";
    EXPECT_TRUE(set_parameter(job, "m1", "text", longest));
    EXPECT_EQ(set_parameter(job, "m1", "text", longest + "a").error().code, "job.out_of_range");
    EXPECT_EQ(set_parameter(job, "m1", "text", std::string("\xC0\x80")).error().code, "job.out_of_range");
    EXPECT_EQ(set_parameter(job, "m1", "family", std::string()).error().code, "job.out_of_range");
}

TEST(Parameters, AWeightInBetweenShowsAsTheNearestNameAndStays) {
    content::Text text{.text = "A"};
    text.weight = 680;
    const Job job = *set_content(test::small_job(), "m1", text);
    EXPECT_EQ(parameter("weight")->get(job.marks[0]), Value(std::string("700")));
    EXPECT_EQ(*set_parameter(job, "m1", "weight", std::string("700")), job);
    EXPECT_EQ(std::get<content::Text>(set_parameter(job, "m1", "weight", std::string("400"))->marks[0].content).weight,
              400);
    text.weight = 1001;
    EXPECT_EQ(set_content(job, "m1", text).error().code, "job.out_of_range");
}

} // namespace
} // namespace touchmark::job
