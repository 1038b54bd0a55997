// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/lookalike.h"
#include "core/content/worst_case.h"
#include "core/geometry/bridges.h"
#include "core/geometry/width.h"
#include "core/imprint/clearance.h"
#include "core/print/printed_mark.h"
#include "core/rules/finding.h"

#include <span>

namespace touchmark::rules {

/// What is derived from one mark before the rules look at it. Pointers are null where the step before failed (the
/// failure is a finding).
struct MarkView {
    const job::Mark* mark = nullptr;
    content::Content said;                       ///< the mark's content in the unit that is looked at
    std::shared_ptr<const content::Drawn> drawn; ///< about its own origin
    surface::FaceMapPtr map;
    std::vector<geometry::Bridge> bridges; ///< that hold its counters, about the drawn outline's own origin
    geometry::Outline placed;              ///< on the map
    Box2 placed_box;                       ///< its bounds
    Zone zone = Zone::side_wall;
    double up = 0;        ///< cosine of the face's outward normal to straight up
    Vec3 upward{0, 0, 1}; ///< straight up as the part stands, in its own coordinates; unit
    std::shared_ptr<const std::vector<geometry::Narrow>> strokes, gaps; ///< about the drawn outline's own origin
    /// See geometry::Widths; a code's modules have none.
    std::shared_ptr<const std::vector<geometry::Stretch>> stroke_stretches, gap_stretches;
    /// Pairs of characters of its lettering and others, the least distinct first, mm at its size; null: none.
    std::shared_ptr<const std::vector<content::Lookalike>> lookalikes;
    surface::Margin margin;
    std::optional<imprint::Obstacles::Wall> wall; ///< behind a cut
    std::optional<double> room_above;             ///< over a raised mark, mm; nullopt: free
    /// Mode::through: where it comes out; or why there is no such place.
    std::optional<imprint::FarSide> far;
    std::optional<Error> no_far;
    /// As it comes out in simulation; null where that is not known or the process has no figures for it.
    std::shared_ptr<const print::PrintedMark> printed;
    std::optional<Error> trouble;                      ///< why drawn or map is missing
    content::Worst which = content::Worst::first_unit; ///< of the range of the mark's variables
    std::string worst; ///< "serial 0888": which values that unit has, when it is not the first
};

/// How much of a MarkView has to be right.
enum class Need {
    widths, ///< drawn, strokes, gaps, and the zone of the face
    placed, ///< also placed and its box
    place,  ///< also margin
    wall,   ///< also wall and room_above; what is known of the print
    printed ///< also the print: up to a second
};

/// Answers "what would the mark be like if …" by the same derivation that the findings come from. A rule offers a fix
/// only after looking at its result here.
class WhatIf {
public:
    virtual ~WhatIf() = default;
    /// REQUIRES: `job` outlives the view, `mark` is an index into its marks.
    [[nodiscard]] virtual MarkView view(const job::Job& job, std::size_t mark, Need need) const = 0;
    /// All that the mark is judged by: its first unit, then the worst cases in the range of its variables.
    [[nodiscard]] virtual std::vector<MarkView> views(const job::Job& job, std::size_t mark, Need need) const;
    /// See surface::shift_inward; from where the view's mark is. Whether there is any place for it is remembered.
    [[nodiscard]] virtual std::optional<Vec2> shift_inward(const MarkView& view, double wanted) const = 0;
    /// See plate::stand_with_side_wall.
    [[nodiscard]] virtual std::vector<plate::Standing> standings(Vec3 wall_normal) const = 0;
};

struct Context {
    const job::Job& job;
    const part::Part& part;
    const process::Process& process;
    const content::FontLibrary& fonts;
    const plate::Meshes& meshes;
    std::vector<MarkView> marks;
    plate::Placement placement{};    ///< of job.pose
    double height_mm = 0;            ///< of the part as it stands
    const WhatIf* what_if = nullptr; ///< null: findings without fixes
    /// For each mark with variables its views but the one in `marks`, which is the widest.
    std::vector<std::vector<MarkView>> other_units{};
    bool printing = false; ///< whether fixes may be tried by printing them in simulation, a second each
};

/// One row a rule, one file a rule.
struct Rule {
    std::string_view id;    ///< the file's name: "stroke_width"
    std::string_view title; ///< "Stroke width"
    std::string_view what;  ///< what it checks, one sentence
    std::string_view why;   ///< why it matters in production
    /// Appends what it has to say about context.marks[mark].
    void (*judge)(const Context& context, std::size_t mark, std::vector<Finding>& findings) = nullptr;
    /// For a rule about the part itself rather than a mark.
    void (*judge_part)(const part::Part& part, std::vector<Finding>& findings) = nullptr;
};

/// Add new rules in table.cpp.
[[nodiscard]] std::span<const Rule> rules();
[[nodiscard]] const Rule* find_rule(std::string_view id);

/// Every rule on every mark, grouped by mark in job order, the most severe first; then the part's own findings.
[[nodiscard]] std::vector<Finding> judge(Context context);
/// Only what there is to say about the part.
[[nodiscard]] std::vector<Finding> judge_part(const part::Part& part);

} // namespace touchmark::rules
