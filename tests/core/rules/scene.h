// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/rule.h"

#include <map>

namespace touchmark::test {

/// What the test says about a mark in place of drawing and measuring it: widths at the cap height and spacings that the
/// mark had then, and growing with them as real lettering does.
struct Invented {
    std::vector<geometry::Narrow> strokes, gaps; ///< the narrowest first
    std::vector<content::Piece> pieces;
    std::vector<content::MissingCharacter> missing;
    std::vector<content::Note> notes;
    std::optional<content::ModulePlaces> code;         ///< at the size it had
    double width_mm = 10, height_mm = 5;               ///< of the whole outline: one rectangle
    std::optional<geometry::Outline> outline{};        ///< in its place, at the size it had
    bool compared = false;                             ///< its characters with others, in the real font
    double heavier_strokes = 1;                        ///< factor when the weight is above the one it had
    std::optional<double> wall_mm, room_above_mm;      ///< at the depth it had
    bool counter = false;                              ///< the rectangle has a hole in its middle, unless it is bridged
    double bridge_mm = 2;                              ///< how wide bridges are whose width is left open
    std::shared_ptr<const print::PrintedMark> printed; ///< whatever the size
    std::string no_far_side;                           ///< what is said of a mark that is cut through, when not empty
    job::Mark mark;                                    ///< as it was
};

/// The demo bracket with marks whose drawing is invented, judged by the real rules, profiles, maps and poses.
class Scene final : public rules::WhatIf {
public:
    explicit Scene(std::string process = "fff-0.4");

    /// The largest flat face whose normal is this.
    [[nodiscard]] int face_towards(Vec3 normal) const;
    /// Returns its index in the job.
    std::size_t add(Invented invented, int face, Vec2 at = {});
    /// "R": one letter with this narrowest stroke, and gap if given; on the front wall.
    std::size_t add_letter(double stroke, std::optional<double> gap = {});

    [[nodiscard]] rules::MarkView view(const job::Job& job, std::size_t mark, rules::Need need) const override;
    [[nodiscard]] std::optional<Vec2> shift_inward(const rules::MarkView& view, double wanted) const override;
    [[nodiscard]] std::vector<plate::Standing> standings(Vec3 wall_normal) const override;

    /// All findings of a rule on the job as it is, or on another.
    [[nodiscard]] std::vector<rules::Finding> findings(std::string_view rule) const { return findings(rule, job); }
    [[nodiscard]] std::vector<rules::Finding> findings(std::string_view rule, const job::Job& of) const;

    job::Job job;
    process::Process process;
    part::PartPtr part;
    std::shared_ptr<const content::FontLibrary> fonts;
    plate::Meshes meshes;

private:
    std::map<std::string, Invented> invented_;
};

[[nodiscard]] inline geometry::Narrow narrow(double width, std::uint32_t region = 0, std::uint32_t other = 0) {
    return {{0, 0}, {-width / 2, 0}, {width / 2, 0}, width, region, other};
}

/// A profile that comes with the program.
[[nodiscard]] process::Process profile(const std::string& id);

} // namespace touchmark::test
