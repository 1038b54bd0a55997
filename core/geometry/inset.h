// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <optional>

namespace touchmark::geometry {

/// One segment of a contour while the contour moves to its left: at(t, d) is where its point t is at the distance d.
/// It moves along its normal and, towards ends where it meets its neighbour all but smoothly, a little along itself.
struct InsetSide {
    Segment curve;
    double shift_start = 0, shift_end = 0; ///< along itself, mm a mm of distance

    /// Where to a point moves, mm a mm of distance.
    [[nodiscard]] Vec2 way(double t) const;
    [[nodiscard]] Vec2 at(double t, double distance) const { return point_at(curve, t) + way(t) * distance; }
    /// d/dt of at().
    [[nodiscard]] Vec2 derivative(double t, double distance) const;
    /// How fast at() runs along the segment with t; where it is not positive, the moved curve has turned back on
    /// itself.
    [[nodiscard]] double speed(double t, double distance) const;
    [[nodiscard]] bool is_line() const { return curve.degree == 1; }
};

/// How a side follows the one before it.
/// mitre: they keep a common end, `before` == `after`: a smooth joint, or a corner between lines that closes;
/// meet: they shorten each other and meet where both are at the distance; open: they part, with an arc about the corner
/// between them.
struct InsetJoint {
    enum class Kind { mitre, meet, open };
    Kind kind = Kind::mitre;
    Vec2 corner;
    Vec2 before, after; ///< ways of the end of the side before and of the start of the side after
    double turn = 0;    ///< radians, positive where the contour turns left
};

class InsetContour {
public:
    explicit InsetContour(const Contour& contour);

    [[nodiscard]] const std::vector<InsetSide>& sides() const { return sides_; }
    /// joint i is at the start of side i.
    [[nodiscard]] const std::vector<InsetJoint>& joints() const { return joints_; }

    /// Where the sides before and after a joint of kind `meet` do.
    struct Meeting {
        double before = 1, after = 0; ///< t on either
        Vec2 at;
    };
    [[nodiscard]] std::optional<Meeting> meeting(std::size_t joint, double distance) const;
    /// What is left of a side.
    struct Range {
        double from = 0, to = 1;
    };
    [[nodiscard]] std::optional<Range> range(std::size_t side, double distance) const;
    /// What it encloses at the distance; negative for a hole. REQUIRES: it is sound up to there.
    [[nodiscard]] double area(double distance) const;
    /// The first place found at which, before the contour is that far in, a side vanishes or comes nearer to `outline`
    /// than the distance.
    template <class AnyNearer> [[nodiscard]] std::optional<Vec2> fault(double distance, AnyNearer&& any_nearer) const {
        for (std::size_t i = 0; i < sides_.size(); ++i) {
            const auto at = places(i, distance);
            if (!at) return joints_[i].corner;
            for (const Vec2 p : *at)
                if (any_nearer(p)) return p;
        }
        return std::nullopt;
    }

private:
    /// Along a side and its joint at the distance; nullopt where it has turned back.
    [[nodiscard]] std::optional<std::vector<Vec2>> places(std::size_t side, double distance) const;

    std::vector<InsetSide> sides_;
    std::vector<InsetJoint> joints_;
};

/// A region drawn in from its contours by growing distances, as a wall that leans does: the parallel curves, corners
/// that close shortened, corners that open rounded. Angles under 0.01 rad count as smooth.
struct InsetRegion {
    std::vector<InsetContour> contours; ///< the outer one first

    explicit InsetRegion(const Region& region);
    [[nodiscard]] double area(double distance) const;
};

/// Where a region changes its shape before it is drawn in by `distance`: a stroke that narrows to nothing, a rounding
/// or a side that vanishes. nullopt: it keeps its shape, and at least 0.01 mm of width everywhere.
[[nodiscard]] std::optional<Vec2> inset_fault(const Region& region, const InsetRegion& inset, double distance);

} // namespace touchmark::geometry
