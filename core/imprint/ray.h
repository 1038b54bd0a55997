// SPDX-License-Identifier: MIT
#pragma once

// A straight line into a tree of triangles.

#include "core/imprint/triangle_tree.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace touchmark::imprint {

struct Ray {
    Vec3 from, way; ///< way: unit

    /// Where it enters the box, 0 from within; 1e300 where it misses it by more than a hair.
    [[nodiscard]] double entry(const Box3& box) const {
        constexpr double hair = 1e-6; // mm
        double in = 0, out = 1e300;
        const std::array low{box.low.x, box.low.y, box.low.z}, high{box.high.x, box.high.y, box.high.z},
            start{from.x, from.y, from.z}, step{way.x, way.y, way.z};
        for (std::size_t i = 0; i < 3; ++i) {
            if (std::abs(step[i]) < 1e-12) {
                if (start[i] < low[i] - hair || start[i] > high[i] + hair) return 1e300;
                continue;
            }
            const double a = (low[i] - hair - start[i]) / step[i], b = (high[i] + hair - start[i]) / step[i];
            in = std::max(in, std::min(a, b));
            out = std::min(out, std::max(a, b));
        }
        return in <= out ? in : 1e300;
    }

    /// Where it goes through the triangle, negative behind its start (Möller and Trumbore, "Fast, minimum storage
    /// ray-triangle intersection", 1997). `edge`: how far beside it still counts, in parts of its sides.
    [[nodiscard]] std::optional<double> hit(const Triangle& triangle, double edge) const {
        const Vec3 u = triangle.corners[1] - triangle.corners[0], v = triangle.corners[2] - triangle.corners[0];
        const Vec3 p = cross(way, v);
        const double det = dot(u, p);
        if (std::abs(det) < 1e-14) return std::nullopt;
        const Vec3 t = from - triangle.corners[0], q = cross(t, u);
        const double a = dot(t, p) / det, b = dot(way, q) / det;
        if (a < -edge || b < -edge || a + b > 1 + edge) return std::nullopt;
        return dot(v, q) / det;
    }
};

} // namespace touchmark::imprint
