// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/width.h"
#include "core/imprint/clearance.h"
#include "core/rules/finding.h"

#include <span>

namespace touchmark::rules {

/// What is derived from one mark before the rules look at it. Pointers are null where the step before failed (the failure is a finding).
struct MarkView {
    const job::Mark* mark = nullptr;
    std::shared_ptr<const content::Drawn> drawn;     ///< about its own origin
    surface::FaceMapPtr map;
    geometry::Outline placed;                        ///< on the map
    Zone zone = Zone::side_wall;
    double up = 0;                                   ///< cosine of the face's outward normal to straight up
    std::shared_ptr<const std::vector<geometry::Narrow>> strokes, gaps; ///< about the drawn outline's own origin
    surface::Margin margin;
    std::optional<imprint::Obstacles::Wall> wall;    ///< behind a cut
    std::optional<Error> trouble;                    ///< why drawn or map is missing
};

struct Context {
    const job::Job& job;
    const part::Part& part;
    const process::Process& process;
    const content::FontLibrary& fonts;
    const plate::Meshes& meshes;
    std::vector<MarkView> marks;
};

/// One row a rule, one file a rule.
struct Rule {
    std::string_view id;     ///< the file's name: "stroke_width"
    std::string_view title;  ///< "Stroke width"
    std::string_view what;   ///< what it checks, one sentence
    std::string_view why;    ///< why it matters in production
    /// Appends what it has to say about context.marks[mark].
    void (*judge)(const Context& context, std::size_t mark, std::vector<Finding>& findings) = nullptr;
};

/// Add new rules here: stroke_width, gap_width, depth, zone, leaves_face, edge_margin, overlap, remaining_wall, missing_characters, content (trouble).
[[nodiscard]] std::span<const Rule> rules();

/// Every rule on every mark, plus the part's notes; grouped by mark in job order, the most severe first.
[[nodiscard]] std::vector<Finding> judge(const Context& context);

} // namespace touchmark::rules
