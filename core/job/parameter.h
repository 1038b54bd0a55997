// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"

#include <span>
#include <variant>

namespace touchmark::job {

using Value = std::variant<double, std::string>;

/// A value of a mark that a person sets. Declared once; feeds the panel, the command line and the job schema.
struct Parameter {
    /// drawing: the text of an SVG or DXF file; line: a text of one line.
    enum class Kind { length, angle, factor, choice, text, family, drawing, line };

    std::string_view key{};    ///< "cap_height": in the job file
    std::string_view option{}; ///< "--height", empty when the command line has none of its own
    std::string_view title{};  ///< "Cap height"
    std::string_view help{};   ///< what the value does to the print: one sentence, the tooltip
    Kind kind = Kind::length;
    std::string_view unit{};                                              ///< "mm", "°", "× cap height", ""
    double least = 0, most = 0, step = 0;                                 ///< of a text: least and most characters
    Value standard{};                                                     ///< the default
    std::string_view zero{};                                              ///< what 0 stands for, in a word: "none"
    std::vector<std::pair<std::string_view, std::string_view>> choices{}; ///< key, title
    Value (*get)(const Mark&) = nullptr;
    void (*set)(Mark&, const Value&) = nullptr;
    /// Whether a mark with this content has the value; get and set REQUIRE it. Null: every mark has it.
    bool (*had_by)(const content::Content&) = nullptr;
    /// Whether it does anything for the mark as it is now, on a face of that kind if it is on one, so that a panel
    /// shows it. Null: always.
    bool (*shown_for)(const Mark&, std::optional<part::FaceKind>) = nullptr;
};

/// Add new parameters here; the panel, the command line, the job file and its schema follow. A weight is a choice of
/// the nine named weights for people, and any whole number from 1 to 1000 in the file: fonts have weights in between.
/// In the order in which a panel shows them: what it says and how, mode and depth, what its kind of content has, where.
[[nodiscard]] std::span<const Parameter> parameters();
[[nodiscard]] const Parameter* parameter(std::string_view key);
[[nodiscard]] bool has(const Mark& mark, const Parameter& parameter);
/// Of the value that content::size_of() is: "cap_height" ("fit_width" where its size follows from that), "module" or
/// "size".
[[nodiscard]] std::string_view size_key(const content::Content& content);
/// The value that an error of drawing this content comes from, for a word beside its field; "text" where none is to
/// blame alone, empty for an error of another kind.
[[nodiscard]] std::string_view key_to_blame(std::string_view error, const content::Content& content);
/// Checks kind and range. Errors: "job.no_mark", "job.unknown_parameter" (no mark, or none of this kind, has it),
/// "job.out_of_range", "job.wrong_kind".
[[nodiscard]] Status check_value(const Parameter& parameter, const Value& value);
[[nodiscard]] Result<Job> set_parameter(Job job, std::string_view mark, std::string_view key, Value value);

} // namespace touchmark::job
