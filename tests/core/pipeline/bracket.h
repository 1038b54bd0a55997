// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"

namespace touchmark::test {

/// The demo bracket with this machine's fonts and the profiles that come with the program.
[[nodiscard]] const pipeline::Surroundings& bracket();
/// The largest flat face whose normal is this.
[[nodiscard]] int face_towards(const part::Part& part, Vec3 normal);

struct TextMark {
    std::string text = "NW-2207";
    double cap_height = 5;
    int weight = 700;
    Mode mode = Mode::engrave;
    double depth = 0.5;
    Vec3 normal{0, -1, 0}; ///< of the face
    Vec2 at{};
    double turn = 0;
};
[[nodiscard]] job::Job with_mark(job::Job job, const TextMark& mark);

[[nodiscard]] std::shared_ptr<const pipeline::Evaluation> evaluated(pipeline::Evaluator& evaluator,
                                                                    const job::Job& job);
/// The worst word of a rule on a mark; nullopt: silent.
[[nodiscard]] std::optional<rules::Severity> worst(const pipeline::Evaluation& evaluation, std::string_view rule,
                                                   std::string_view mark);

/// Of a rule's findings on the mark there are fewer that are as severe as this one; of its zone, one with a better
/// figure will do: another mode may suit the place better and still be worth a word.
[[nodiscard]] bool mended(const pipeline::Evaluation& before, const rules::Finding& finding,
                          const pipeline::Evaluation& after);
/// How many of a rule's findings on a mark are at least as severe as this one.
[[nodiscard]] long count_like(const pipeline::Evaluation& evaluation, const rules::Finding& finding);

} // namespace touchmark::test
