// SPDX-License-Identifier: MIT
#include "core/job/job.h"
#include "core/job/job_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::job {
namespace {

using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;

ClearFace face(int index, ClearReason reason = ClearReason::sealing, std::string note = {}) {
    return {index, {Digest{7, static_cast<std::uint64_t>(index)}}, reason, std::move(note)};
}

TEST(ClearFaces, LieInTheOrderOfTheFacesEachOnce) {
    Job job = keep_clear(keep_clear({}, face(9)).value(), face(4)).value();
    job = keep_clear(std::move(job), face(9, ClearReason::mating, "flange")).value();
    EXPECT_THAT(job.kept_clear, ElementsAre(Field(&ClearFace::face, 4), Field(&ClearFace::face, 9)));
    EXPECT_EQ(kept_clear(job, 9)->reason, ClearReason::mating);
    EXPECT_EQ(kept_clear(job, 9)->note, "flange");
    EXPECT_EQ(kept_clear(job, 5), nullptr);
}

TEST(ClearFaces, AreReleasedAndReleasingAnotherChangesNothing) {
    const Job job = keep_clear({}, face(4)).value();
    EXPECT_EQ(release(job, 5).value(), job);
    EXPECT_EQ(release(job, 4).value(), Job{});
}

TEST(ClearFaces, RefuseWhatNoFaceOrNoLineIs) {
    for (const ClearFace& wrong :
         {face(-1), face(3, ClearReason::other, "two\nlines"), face(3, ClearReason::other, std::string(201, 'x')),
          face(3, ClearReason::other, "\xFF")})
        EXPECT_EQ(keep_clear({}, wrong).error().code, "job.out_of_range");
}

TEST(ClearFaces, HaveReasonsWithKeysThatLeadBack) {
    for (const ClearReason reason : clear_reasons) {
        EXPECT_EQ(clear_reason_from(key_of(reason)), reason);
        EXPECT_FALSE(title_of(reason).empty());
    }
    EXPECT_EQ(clear_reason_from("pretty"), std::nullopt);
}

TEST(ClearFaces, ComeBackFromTheFile) {
    const Job job = keep_clear(keep_clear({}, face(4, ClearReason::load_bearing, "Bearing, Ø 20 — H7")).value(),
                               face(12, ClearReason::other))
                        .value();
    EXPECT_EQ(from_json(to_json(job, "/jobs"), "/jobs").value(), job);
    EXPECT_THAT(to_json({}, "/jobs"), testing::Not(HasSubstr("kept_clear")));
}

TEST(ClearFaces, AreRefusedWhereTheFileIsWrong) {
    const std::string good = to_json(keep_clear({}, face(4)).value(), "/jobs");
    const auto with = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        text.replace(text.find(from), from.size(), to);
        const auto job = from_json(text, "/jobs");
        return job ? "accepted" : job.error().message;
    };
    EXPECT_THAT(with("\"sealing\"", "\"pretty\""), HasSubstr("kept_clear[0].reason is no reason"));
    EXPECT_THAT(with("\"face\": 4", "\"face\": -4"), HasSubstr("kept_clear[0].face"));
    EXPECT_THAT(with("\"reason\"", "\"cause\""), HasSubstr("kept_clear[0]"));
    EXPECT_THAT(with("\"kept_clear\": [", "\"kept_clear\": [{\"face\": 4, \"reason\": \"other\"},"),
                HasSubstr("is kept clear twice"));
}

} // namespace
} // namespace touchmark::job
