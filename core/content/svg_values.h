// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <optional>
#include <string_view>
#include <vector>

namespace touchmark::content::svg {

/// A run of segments as a pen draws it; in user units, y down.
struct SubPath {
    Vec2 start;
    std::vector<geometry::Segment> segments; ///< none: a single point
    bool closed = false;
};

/// Path data of every command (SVG 2, chapter 9). What comes before an error is drawn, as the standard asks; `complete`
/// is false then.
struct PathData {
    std::vector<SubPath> paths;
    bool complete = true;
};
[[nodiscard]] PathData parse_path(std::string_view data);
/// A list of transforms; nullopt when malformed.
[[nodiscard]] std::optional<geometry::Affine> parse_transform(std::string_view text);
/// "1,2 3 4"; nullopt when it is not numbers alone.
[[nodiscard]] std::optional<std::vector<double>> parse_numbers(std::string_view text);

/// What relative lengths are relative to, in user units.
struct LengthContext {
    double percent_of = 0;
    double font_size = 16;
};
/// In user units (CSS pixels, 96 an inch). nullopt when it is no length.
[[nodiscard]] std::optional<double> parse_length(std::string_view text, const LengthContext& context);

} // namespace touchmark::content::svg
