// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <cstdint>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

namespace touchmark::geometry {

/// Contours flattened and cut at each other until edges meet at common vertices only: no two vertices closer than the
/// resolution, none closer to an edge that does not end there. Edges remember the curve that they are of.
class Arrangement {
public:
    struct Edge {
        std::uint32_t from = 0, to = 0;         ///< vertices
        std::uint32_t contour = 0, segment = 0; ///< source
        double start = 0, end = 1;              ///< parameters on it
        int count = 1;                          ///< how often it is passed from → to, less how often to → from
    };

    /// nullopt when the cuts do not settle.
    [[nodiscard]] static std::optional<Arrangement> of(std::span<const Contour> contours, double resolution,
                                                       double tolerance);

    [[nodiscard]] const std::vector<Vec2>& vertices() const { return vertices_; }
    /// Each pair of vertices at most once, count never 0.
    [[nodiscard]] const std::vector<Edge>& edges() const { return edges_; }
    /// The vertex is a corner of the input, not a crossing or a point of a flattened curve.
    [[nodiscard]] bool is_corner(std::uint32_t vertex) const { return vertex < corner_count_; }
    /// For each edge the winding number on its left, `background` included.
    [[nodiscard]] std::vector<int> windings_left(int background) const;

private:
    explicit Arrangement(double resolution) : resolution_(resolution) {}
    struct Cut {
        std::uint32_t edge, vertex;
    };

    void load(std::span<const Contour> contours, double tolerance);
    std::uint32_t vertex_at(Vec2 p);
    /// The cuts that are missing; nullopt when there are too many.
    [[nodiscard]] std::optional<std::vector<Cut>> missing_cuts();
    void examine(std::uint32_t e, std::uint32_t f, std::vector<Cut>& cuts);
    void apply(std::vector<Cut>& cuts);
    void merge_equal_edges();
    [[nodiscard]] Vec2 from(const Edge& edge) const { return vertices_[edge.from]; }
    [[nodiscard]] Vec2 to(const Edge& edge) const { return vertices_[edge.to]; }

    double resolution_;
    std::vector<Vec2> vertices_;
    std::uint32_t corner_count_ = 0;
    std::vector<Edge> edges_;
    std::vector<bool> fresh_; ///< edges not yet examined against all others
    std::unordered_multimap<std::uint64_t, std::uint32_t> cells_;
};

} // namespace touchmark::geometry
