// SPDX-License-Identifier: MIT
#pragma once

// The curves of edges that marks are made of, as Béziers in plain coordinates: reading OpenCASCADE's own point by point
// takes several times as long.

#include "core/base/vector.h"
#include "core/part/stored_curves.h"

#include <gp_Circ.hxx>

#include <array>
#include <optional>

namespace touchmark::part {

inline constexpr int highest_degree = 7;

template <class V> struct Bezier {
    int degree = 0;
    std::array<V, highest_degree + 1> poles;

    struct Jet {
        V at, slope;
    };
    [[nodiscard]] Jet jet(double t) const {
        std::array<V, highest_degree + 1> p = poles;
        for (int level = degree; level > 1; --level)
            for (int k = 0; k < level; ++k)
                p[static_cast<std::size_t>(k)] =
                    p[static_cast<std::size_t>(k)] * (1 - t) + p[static_cast<std::size_t>(k + 1)] * t;
        return {p[0] * (1 - t) + p[1] * t, (p[1] - p[0]) * degree};
    }
    [[nodiscard]] const V& last() const { return poles[static_cast<std::size_t>(degree)]; }
};

/// nullopt where it is no Bézier of a usable degree.
[[nodiscard]] std::optional<Bezier<Vec3>> bezier_of(const Geom_Curve* curve);
/// The whole of a line or a Bézier, as the edge runs forward; nullopt for another kind.
[[nodiscard]] std::optional<Bezier<Vec3>> space_curve(const StoredCurves& edge);
/// The same of the edge's curve in the parameters.
[[nodiscard]] std::optional<Bezier<Vec2>> parameter_curve(const StoredCurves& edge);

/// Widens the box by what the curve reaches.
void add_to(Box3& box, const Bezier<Vec3>& curve);
/// By what the edge takes of a circle; its location apart.
void add_to(Box3& box, const StoredCurves& edge, const gp_Circ& circle);

} // namespace touchmark::part
