// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <algorithm>
#include <cmath>

namespace touchmark::rules {
namespace {

using job::ClearFace;
using job::ClearReason;

std::string who_decides(const ClearFace& face) {
    return (face.note.empty() ? ". " : " (" + face.note + "). ") +
           std::string("Whether it may be marked all the same is for the engineer responsible for it to say.");
}

std::string name_of(const ClearFace& face) {
    switch (face.reason) {
    case ClearReason::sealing:
        return "a sealing face";
    case ClearReason::mating:
        return "a mating face";
    case ClearReason::load_bearing:
        return "a load-bearing face";
    case ClearReason::other:
        return "a face that is kept clear";
    }
    std::unreachable();
}

Finding finding_on(const MarkView& view, Severity severity, double distance, double limit) {
    Finding finding = finding_of("kept_clear", view, severity);
    finding.figure = distance;
    finding.limit = limit;
    finding.unit = "mm";
    finding.source = "the job: faces that are kept clear";
    return finding;
}

/// Of a triangle. Ericson, Real-Time Collision Detection, 5.1.5 (from memory).
Vec3 nearest_on(const std::array<Vec3, 3>& t, Vec3 p) {
    const Vec3 ab = t[1] - t[0], ac = t[2] - t[0], ap = p - t[0];
    const double d1 = dot(ab, ap), d2 = dot(ac, ap);
    if (d1 <= 0 && d2 <= 0) return t[0];
    const Vec3 bp = p - t[1];
    const double d3 = dot(ab, bp), d4 = dot(ac, bp);
    if (d3 >= 0 && d4 <= d3) return t[1];
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0 && d1 >= 0 && d3 <= 0) return t[0] + ab * (d1 / (d1 - d3));
    const Vec3 cp = p - t[2];
    const double d5 = dot(ab, cp), d6 = dot(ac, cp);
    if (d6 >= 0 && d5 <= d6) return t[2];
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0 && d2 >= 0 && d6 <= 0) return t[0] + ac * (d2 / (d2 - d6));
    const double va = d3 * d6 - d5 * d4;
    if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return t[1] + (t[2] - t[1]) * ((d4 - d3) / ((d4 - d3) + (d5 - d6)));
    const double all = va + vb + vc;
    return t[0] + ab * (vb / all) + ac * (vc / all);
}

struct Near {
    double distance = 1e300;
    Vec2 on_mark;
};

/// The distance from the mark's outline, as it lies on the face, to another face.
Near nearest(const Context& context, const MarkView& view, int face, double within) {
    Near near;
    Box3 reach = context.part.faces()[static_cast<std::size_t>(face)].box;
    const Vec3 margin{within, within, within};
    reach = {reach.low - margin, reach.high + margin};
    const part::FaceMesh& mesh = *context.meshes[static_cast<std::size_t>(face)];
    const auto point = [&](std::uint32_t i) {
        const auto& p = mesh.points[i];
        return Vec3{p[0], p[1], p[2]};
    };
    for (const geometry::Region& region : view.placed.regions)
        for (const Vec2 on_mark : geometry::flattened(region.outer, 0.05)) {
            const Vec3 p = view.map->point(on_mark);
            if (p.x < reach.low.x || p.y < reach.low.y || p.z < reach.low.z || p.x > reach.high.x ||
                p.y > reach.high.y || p.z > reach.high.z)
                continue;
            for (const auto& corners : mesh.triangles) {
                const double far =
                    distance(p, nearest_on({point(corners[0]), point(corners[1]), point(corners[2])}, p));
                if (far < near.distance) near = {far, on_mark};
            }
        }
    return near;
}

/// The mark lies on it, or comes out through it.
std::optional<Finding> on_it(const MarkView& view, const ClearFace& face) {
    const bool lies = view.mark->anchor.face == face.face;
    const bool comes_out = view.far && std::ranges::find(view.far->faces, face.face) != view.far->faces.end();
    if (!lies && !comes_out) return std::nullopt;
    const Severity severity = face.reason == ClearReason::load_bearing ? Severity::warning : Severity::blocker;
    Finding finding = finding_on(view, severity, 0, 0);
    finding.message =
        std::string(lies ? "The mark lies on " : "The mark comes out through ") + name_of(face) + who_decides(face);
    locate_whole(finding, view);
    return finding;
}

/// The mark, or the thin wall behind it, reaches it.
std::optional<Finding> near_it(const Context& context, const MarkView& view, const ClearFace& face) {
    const process::Limit* limit = context.process.limit("clear_distance", view.mark->mode, view.zone);
    const process::Limit* wall = context.process.limit("remaining_wall", view.mark->mode, view.zone);
    if (wall && view.wall && view.wall->face == face.face && view.wall->thickness < wall->comfortable.value - same) {
        Finding finding = finding_on(view, Severity::warning, view.wall->thickness, wall->comfortable.value);
        finding.message = "Behind the cut, " + apart(view.wall->thickness, wall->comfortable.value) + " away, lies " +
                          name_of(face) + who_decides(face);
        locate(finding, view, {view.wall->at}, 4 * wall->comfortable.value);
        return finding;
    }
    if (!limit || view.placed.empty() || static_cast<std::size_t>(face.face) >= context.meshes.size() ||
        !context.meshes[static_cast<std::size_t>(face.face)])
        return std::nullopt;
    const double enough = limit->comfortable.value;
    const Near near = nearest(context, view, face.face, enough);
    // Triangles of a bent face lie a little off it.
    if (near.distance >= enough - 1e-3) return std::nullopt;
    Finding finding = finding_on(view, Severity::warning, near.distance, enough);
    finding.message =
        "The mark comes within " + apart(near.distance, enough) + " of " + name_of(face) + who_decides(face);
    locate(finding, view, {near.on_mark}, 4 * enough);
    return finding;
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    std::vector<Finding> findings;
    if (!view.drawn || !view.map) return findings;
    for (const ClearFace& face : context.job.kept_clear) {
        if (static_cast<std::size_t>(face.face) >= context.part.faces().size()) continue;
        auto finding = on_it(view, face);
        if (!finding) finding = near_it(context, view, face);
        if (finding) findings.push_back(*std::move(finding));
    }
    return findings;
}

} // namespace

void judge_kept_clear(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        if (context.what_if) {
            if (finding.figure > 0 || finding.limit > 0)
                for (const double by : {finding.limit, 2 * finding.limit}) {
                    const auto shift = context.what_if->shift_inward(view, std::max(0.0, view.margin.distance) + by);
                    if (shift && fixer.offer(finding,
                                             {"move_inward", "Move " + number_text(length(*shift)) + " mm inward",
                                              edit_position(view.mark->id, view.mark->anchor.at + *shift)},
                                             Need::wall))
                        break;
                }
            offer_side_wall_face(fixer, finding);
        }
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
