// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace touchmark::surface {

/// The edges of polygons in a tree of boxes: what is nearest, what meets a box, what lies inside.
class SegmentTree {
public:
    explicit SegmentTree(std::span<const geometry::Polygon> polygons);

    struct Edge {
        Vec2 a, b;
    };
    struct Nearest {
        double distance = 0;
        Vec2 at;
    };
    [[nodiscard]] bool empty() const { return edges_.empty(); }
    [[nodiscard]] std::span<const Edge> edges() const { return edges_; }
    /// The nearest point of any edge, when it is nearer than `bound`.
    [[nodiscard]] std::optional<Nearest> nearest(Vec2 p, double bound) const;
    /// Whether any edge is nearer than `bound`: quicker than to find the nearest.
    [[nodiscard]] bool any_nearer(Vec2 p, double bound) const;
    /// Even-odd.
    [[nodiscard]] bool inside(Vec2 p) const;
    /// visit(edge) for each edge whose box meets `box`, until it returns false. Returns false when stopped so.
    template <class Visit> bool visit(const Box2& box, Visit&& visit) const {
        return nodes_.empty() || walk(0, box, visit);
    }
    /// visit(edge) for each edge in a box and all boxes about it that enter(box) says yes to.
    template <class Enter, class Visit> void descend(Enter&& enter, Visit&& visit) const {
        if (!nodes_.empty()) go_down(0, enter, visit);
    }

private:
    struct Node {
        Box2 box;
        std::uint32_t first = 0, last = 0, right = 0; ///< right 0: a leaf; the left child follows its parent
    };
    void build(std::uint32_t first, std::uint32_t last);
    [[nodiscard]] bool find_nearer(std::uint32_t node, Vec2 p, double square) const;
    void search(std::uint32_t node, Vec2 p, std::optional<Nearest>& best, double& bound) const;

    template <class Visit> bool walk(std::uint32_t at, const Box2& box, Visit&& visit) const {
        const Node& node = nodes_[at];
        if (!node.box.meets(box)) return true;
        if (node.right) return walk(at + 1, box, visit) && walk(node.right, box, visit);
        for (std::uint32_t i = node.first; i < node.last; ++i) {
            Box2 own;
            own.add(edges_[i].a);
            own.add(edges_[i].b);
            if (own.meets(box) && !visit(edges_[i])) return false;
        }
        return true;
    }

    template <class Enter, class Visit> void go_down(std::uint32_t at, Enter& enter, Visit& visit) const {
        const Node& node = nodes_[at];
        if (!enter(node.box)) return;
        if (node.right) return go_down(at + 1, enter, visit), go_down(node.right, enter, visit);
        for (std::uint32_t i = node.first; i < node.last; ++i)
            visit(edges_[i]);
    }

    std::vector<Edge> edges_;
    std::vector<Node> nodes_;
};

/// The point of a–b nearest to p.
[[nodiscard]] Vec2 nearest_on(Vec2 a, Vec2 b, Vec2 p);
/// Where the segments a–b and c–d meet, if they do (touching counts).
[[nodiscard]] std::optional<Vec2> meeting(Vec2 a, Vec2 b, Vec2 c, Vec2 d);

} // namespace touchmark::surface
