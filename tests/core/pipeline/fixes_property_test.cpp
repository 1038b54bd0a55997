// SPDX-License-Identifier: MIT

// Any mark, any place, any pose: a fix that is offered does what it says and nothing worse in secret.

#include "core/rules/rule.h"
#include "tests/core/pipeline/bracket.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <map>
#include <random>

namespace touchmark::test {
namespace {

using rules::Finding;
using rules::Severity;

class RandomMarkedJob {
public:
    RandomMarkedJob(const pipeline::Surroundings& around, unsigned seed) : around_(around), random_(seed) {}

    /// nullopt where the face that came up has no map.
    std::optional<job::Job> operator()() {
        job::Job job;
        job.process = (*around_.processes)[static_cast<std::size_t>(whole(0, 3))].id;
        constexpr Vec3 downs[] = {{0, 0, -1}, {0, 0, 1}, {1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}};
        job.pose.down = downs[whole(0, 5)];
        if (whole(0, 3) == 0) job.pose.down = normalised({any(-1, 1), any(-1, 1), any(-1, 1)});
        if (whole(0, 3) == 0)
            job = job::keep_clear(job, {any_face(), {}, job::clear_reasons[static_cast<std::size_t>(whole(0, 3))], {}})
                      .value();
        const int face = any_face();
        for (int i = whole(1, 2); i > 0; --i) {
            auto mark = any_mark(face);
            if (!mark) return std::nullopt;
            job = job::add_mark(std::move(job), *std::move(mark)).value();
        }
        return job;
    }

private:
    double any(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
    double tenth(double low, double high) { return std::round(any(low, high) * 10) / 10; }

    /// Large ones come up more often: small ones hold nothing.
    int any_face() {
        const auto& faces = around_.part->faces();
        int best = 0;
        for (int tries = 0; tries < 4; ++tries) {
            const int face = whole(0, static_cast<int>(faces.size()) - 1);
            if (tries == 0 ||
                faces[static_cast<std::size_t>(face)].area_mm2 > faces[static_cast<std::size_t>(best)].area_mm2)
                best = face;
        }
        return best;
    }

    content::Content any_content() {
        static const char* const texts[] = {"NW-2207",     "SN 0O1I8B", "68",      "LOT 48\nREV C", "B",
                                            "ABCDEFGHIJK", "oxidase",   "Ø 20 H7", "888 666",       "%&@"};
        if (whole(0, 2) > 0) {
            content::Text text;
            text.text = texts[whole(0, 9)];
            text.cap_height = Mm(tenth(0.8, 9));
            text.weight = whole(0, 1) ? 700 : 400;
            text.letter_spacing = Mm(whole(0, 2) ? 0 : tenth(0, 1));
            return text;
        }
        using enum content::Symbology;
        constexpr content::Symbology kinds[] = {data_matrix, qr, micro_qr, code_128};
        content::Code code;
        code.symbology = kinds[whole(0, 3)];
        code.message = whole(0, 1) ? "12345" : "NW2207";
        code.module = Mm(tenth(0.3, 1.5));
        code.light_is_mark = whole(0, 4) == 0;
        return code;
    }

    std::optional<job::Mark> any_mark(int face) {
        const auto map = surface::map_face(*around_.part, face);
        if (!map) return std::nullopt;
        job::Mark mark;
        mark.content = any_content();
        mark.mode = modes[static_cast<std::size_t>(whole(0, 4))];
        mark.depth = Mm(std::round(any(0.1, 2.2) * 20) / 20);
        mark.cover = Mm(tenth(0.2, 1.5));
        if (whole(0, 4) == 0) mark.draft = Degrees(whole(1, 45));
        if (whole(0, 4) == 0) mark.floor_rounding = Mm(tenth(0.1, 0.5));
        if (whole(0, 1)) mark.bridges = job::Bridging::automatic;
        if (whole(0, 2) == 0) mark.reading_distance = Mm(whole(1, 12) * 100);
        const Vec2 room = (*map)->rectangle() * 0.55;
        mark.anchor = {face,
                       around_.part->faces()[static_cast<std::size_t>(face)].fingerprint,
                       {any(-room.x, room.x), any(-room.y, room.y)},
                       Degrees(whole(0, 1) ? 90 * whole(-1, 2) : any(-180, 180))};
        return mark;
    }

    const pipeline::Surroundings& around_;
    std::mt19937 random_;
};

std::string lower(std::string_view title) {
    std::string text(title);
    text.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(text.front())));
    return text;
}

std::string told(const Finding& finding) {
    return finding.rule + ", " + std::string(key_of(finding.severity)) + " on " + finding.mark + ": " + finding.message;
}

/// Its own finding is gone or milder; what is worse than that was there before, or the title says so.
void expect_honest(const pipeline::Evaluation& before, const Finding& finding, const rules::Fix& fix,
                   const pipeline::Evaluation& after) {
    EXPECT_TRUE(mended(before, finding, after)) << told(finding) << "\n  is not mended by: " << fix.title;
    for (const Finding& now : after.findings) {
        if (now.severity >= finding.severity || now.mark.empty() || count_like(before, now) > 0) continue;
        const bool said = now.severity == Severity::warning &&
                          fix.title.find("; then at risk: ") != std::string::npos &&
                          (fix.title.find(lower(rules::find_rule(now.rule)->title)) != std::string::npos ||
                           fix.title.ends_with(" more"));
        EXPECT_TRUE(said) << told(finding) << "\n  mended by: " << fix.title << "\n  brings " << told(now);
    }
}

void try_marks(const pipeline::Surroundings& around, unsigned first_seed, int jobs) {
    pipeline::Evaluator evaluator;
    int fixes = 0, owned_up = 0;
    std::map<std::string, int> mended;
    for (int i = 0; i < jobs; ++i) {
        SCOPED_TRACE("seed " + std::to_string(first_seed + static_cast<unsigned>(i)));
        const auto job = RandomMarkedJob(around, first_seed + static_cast<unsigned>(i))();
        if (!job) continue;
        const auto before = evaluator.evaluate(*job, around, Progress()).value();
        for (const Finding& finding : before->findings)
            for (const rules::Fix& fix : finding.fixes) {
                const auto edited = fix.edit(*job);
                ASSERT_TRUE(edited) << told(finding) << "\n  fix: " << fix.title << ": " << edited.error().message;
                expect_honest(*before, finding, fix, *evaluator.evaluate(*edited, around, Progress()).value());
                ++fixes, ++mended[finding.rule];
                owned_up += fix.title.find("; then at risk: ") != std::string::npos;
            }
    }
    std::cout << jobs << " jobs, " << fixes << " fixes applied, " << owned_up << " of them say what is then at risk\n";
    for (const auto& [rule, times] : mended)
        std::cout << "  " << rule << ": " << times << '\n';
    EXPECT_GT(fixes, jobs);
}

int how_many(int quick, int thorough) {
    const char* wanted = std::getenv("TOUCHMARK_LONG_RUN");
    return wanted && *wanted ? thorough : quick;
}

TEST(Fixes, MendTheirFindingAndBringNothingWorseUnsaidOnTheBracket) {
    try_marks(bracket(), 1, how_many(25, 1500));
}

TEST(Fixes, MendTheirFindingAndBringNothingWorseUnsaidOnAnOpenPart) {
    pipeline::Surroundings around = bracket();
    around.part = read_part(open_part("io1-cm-214.stp"));
    try_marks(around, 100'000, how_many(20, 1500));
}

} // namespace
} // namespace touchmark::test
