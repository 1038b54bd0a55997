// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/medial_axis.h"

#include <optional>
#include <span>

namespace touchmark::geometry {

/// A local minimum of the width on an axis.
struct Pinch {
    Vec2 at, side_a, side_b;
    double width = 0;
    bool opposite = false; ///< the sides lie straight across from each other
};

/// A short piece of an axis.
struct Passage {
    double width = 0, length = 0; ///< mm
    Vec2 along;                   ///< unit, either way
};

/// The part of an axis along which two stretches of boundary face each other, inside or outside the material.
class FacingAxis {
public:
    /// Widths that differ by less than `tolerance` are one.
    FacingAxis(const MedialAxis& axis, bool inside, double tolerance);

    [[nodiscard]] std::vector<Pinch> pinches() const;
    [[nodiscard]] std::vector<Passage> passages() const; ///< all along it
    /// The largest disc; REQUIRES: the axis is not empty.
    [[nodiscard]] Pinch widest() const;
    /// The largest disc centred within the polygon.
    [[nodiscard]] std::optional<Pinch> widest_in(std::span<const Vec2> polygon) const;
    [[nodiscard]] bool empty() const { return axis_.arcs.empty(); }

private:
    [[nodiscard]] double radius(std::uint32_t node) const { return axis_.nodes[node].radius; }
    [[nodiscard]] std::uint32_t across(std::uint32_t arc, std::uint32_t node) const {
        return axis_.arcs[arc].from == node ? axis_.arcs[arc].to : axis_.arcs[arc].from;
    }
    [[nodiscard]] double extent(std::uint32_t arc) const;
    [[nodiscard]] bool deep(std::uint32_t low, double pass) const;
    [[nodiscard]] std::vector<std::uint32_t> tip_path(std::uint32_t tip) const;
    void trim_tip(std::uint32_t tip);
    void shorten(std::uint32_t arc, std::uint32_t node, double part);
    [[nodiscard]] Pinch pinch_at(std::uint32_t node) const;

    MedialAxis axis_;
    double tolerance_;
    std::vector<bool> faces_;   ///< nodes at which two sides face each other
    std::vector<bool> through_; ///< arcs along which they do
    std::vector<std::vector<std::uint32_t>> arcs_of_;
};

} // namespace touchmark::geometry
