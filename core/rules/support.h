// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/rule.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>

/// What the rule files share.
namespace touchmark::rules {

/// Figures that differ by less are the same, mm: well below what any of these processes can tell apart.
inline constexpr double same = 1e-6;

/// The most spots that a finding names.
inline constexpr std::size_t most_spots = 20;

/// A finding of `rule` on the view's mark, with the row's reason as `why`.
[[nodiscard]] Finding finding_of(std::string_view rule, const MarkView& view, Severity severity);

/// The severity of a figure that has to be at least (or at most) the limit's; nullopt: clean.
[[nodiscard]] std::optional<Severity> at_least(double figure, const process::Limit& limit);
[[nodiscard]] std::optional<Severity> at_most(double figure, const process::Limit& limit);
/// Fills figure, limit, comfortable, unit, and the source of whichever of the two was missed.
void set_figures(Finding& finding, double figure, const process::Limit& limit);
/// At risk in place of a blocker, advice in place of that: for limits of what prints but may not serve. The last thing
/// done to a finding, for `missed()` goes by the severity before.
void soften(Finding& finding);
/// The figure that was missed: the hard one for a blocker, else the comfortable one.
[[nodiscard]] double missed(const Finding& finding);

/// `figure` in mm with as many digits as it takes to differ from `other` in print: "0.4996 mm" against 0.50.
[[nodiscard]] std::string apart(double figure, double other);
/// For titles of fixes: two digits after the point at most: "4.2", "5", "0.35".
[[nodiscard]] std::string short_number(double value);
/// "4.2 → 5.6 mm"
[[nodiscard]] std::string change_of(double from, double to);

/// 'R', 'e' and 5 more
[[nodiscard]] std::string some_of(std::span<const std::string> labels, std::size_t shown = 2);
[[nodiscard]] std::string in_quotes(std::string_view label);

/// Straight up as the part stands, in the map's frame at the anchor; as short as the face lies flat. REQUIRES: a map.
[[nodiscard]] Vec2 rise_on_map(const MarkView& view);
/// A point of the drawn outline, on the map.
[[nodiscard]] Vec2 on_map(const MarkView& view, Vec2 on_mark);
/// Sets where, where_on_part (when there is a map) and extent; keeps the first `most_spots`.
void locate(Finding& finding, const MarkView& view, std::vector<Vec2> where, double extent_mm);
/// The whole mark is the spot.
void locate_whole(Finding& finding, const MarkView& view);

[[nodiscard]] const content::Text* text_of(const job::Mark& mark);
/// "cut", "raised", "hidden inside" …: how a sentence calls what is done to the part.
[[nodiscard]] std::string_view relief_of(Mode mode);

} // namespace touchmark::rules
