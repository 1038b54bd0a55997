// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"

/// Profiles that stand on another one and say only what differs. In the file:
///
///     {"format": "touchmark process", "version": 1, "title": "Shop 0.4", "based_on": "fff-0.4",
///      "line_width": {…}, "printing": {"bead_spread": {…}, "wedge": {…}}, "zones": {"top_up_to": {…}},
///      "suitability": [{"mode": …, "zone": …, "figure": {…}}],
///      "limits": [{"limit": …, "mode": …, "zone": …, "hard": {…}}]}
///
/// every figure as in a whole profile, each of them optional, "hard" and "comfortable" too.
namespace touchmark::process {

/// A figure that differs from the base's. The key as in figures.h: "line_width", "printing.bead_spread",
/// "suitability.engrave.top", "limits.stroke_width.engrave.side_wall.hard", "limits.stroke_width.any.any.comfortable".
struct Adjustment {
    std::string key;
    Sourced figure;
};

/// What such a file says.
struct Derivation {
    std::string title;
    std::string based_on; ///< id of the base
    std::string material; ///< empty: the base's
    std::vector<Adjustment> figures;
    std::vector<WedgeStep> wedge; ///< empty: the base's
    std::string wedge_source;
};

/// The base with the figures put in. A limit that the base does not give for exactly that mode and zone becomes an
/// entry of its own, its other figure taken from the entry that counted there so far; entries that are narrower still
/// keep counting before it. A suitability's reason in words becomes the new figure's source.
/// Errors: "process.unknown_figure" (a key that no profile can have, or that this base lacks), "process.range",
/// "process.no_source", "process.malformed" (a key given twice; hard and comfortable, or the zones, out of order).
[[nodiscard]] Result<Process> adjusted(const Process& base, std::span<const Adjustment> figures, std::string id,
                                       std::string title);
/// The same with material and wedge. REQUIRES: `base` is what `derivation.based_on` names.
[[nodiscard]] Result<Process> derived(const Process& base, const Derivation& derivation, std::string id);

/// The figure that counts under that key: the process's own, or of a limit that it does not give for exactly that mode
/// and zone the one of the entry that counts there.
[[nodiscard]] std::optional<Sourced> counted(const Process& process, std::string_view key);

/// The text of the file. Errors: "process.unknown_figure", and what parse_derivation() would refuse.
[[nodiscard]] Result<std::string> profile_json(const Derivation& derivation);
/// Strict, as parse_process() is. Errors: "process.malformed" (names the line or the key), "process.unit",
/// "process.range", "process.newer_version".
[[nodiscard]] Result<Derivation> parse_derivation(std::string_view json);

/// Writes it into the folder, which is made when it is missing; gives back where. The file's stem, which is the new
/// profile's id, comes from the title: "Shop PETG, 0.4" → own-shop-petg-0.4, or own-shop-petg-0.4-2 where that is
/// taken: no file is ever overwritten. Errors: as of profile_json(), file errors.
[[nodiscard]] Result<std::filesystem::path> save_profile(const std::filesystem::path& folder,
                                                         const Derivation& derivation);
/// Writes over a profile that exists; the file keeps its name, and so the profile its id.
[[nodiscard]] Status replace_profile(const std::filesystem::path& file, const Derivation& derivation);

// The same for callers that have the parts.
[[nodiscard]] inline Result<std::string> profile_json(std::string_view based_on, std::string_view title,
                                                      std::span<const Adjustment> figures,
                                                      std::span<const WedgeStep> wedge,
                                                      const std::string& wedge_source) {
    return profile_json({.title = std::string(title),
                         .based_on = std::string(based_on),
                         .material = {},
                         .figures = {figures.begin(), figures.end()},
                         .wedge = {wedge.begin(), wedge.end()},
                         .wedge_source = wedge_source});
}
[[nodiscard]] inline Result<std::filesystem::path>
save_profile(const std::filesystem::path& folder, std::string_view based_on, std::string_view title,
             std::span<const Adjustment> figures, std::span<const WedgeStep> wedge, const std::string& wedge_source) {
    return save_profile(folder, {.title = std::string(title),
                                 .based_on = std::string(based_on),
                                 .material = {},
                                 .figures = {figures.begin(), figures.end()},
                                 .wedge = {wedge.begin(), wedge.end()},
                                 .wedge_source = wedge_source});
}

} // namespace touchmark::process
