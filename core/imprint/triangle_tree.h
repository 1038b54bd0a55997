// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <array>
#include <cstdint>
#include <vector>

namespace touchmark::imprint {

struct Triangle {
    std::array<Vec3, 3> corners;
    int face = -1; ///< of the part
};

/// Triangles in a tree of boxes.
class TriangleTree {
public:
    explicit TriangleTree(std::vector<Triangle> triangles);
    [[nodiscard]] bool empty() const { return nodes_.empty(); }

    /// Visits triangles, promising boxes first. `search.bound(box)` is the least that a triangle in the box could give;
    /// boxes that cannot give less than `search.best()` are passed over. `search.look(triangle)` sees the rest.
    template <class Search> void visit(Search& search) const {
        if (!nodes_.empty()) walk(0, search);
    }

private:
    struct Node {
        Box3 box;
        std::uint32_t first = 0, last = 0, right = 0; ///< right 0: a leaf; the left child follows its parent
    };
    void build(std::uint32_t first, std::uint32_t last);

    template <class Search> void walk(std::uint32_t at, Search& search) const {
        const Node& node = nodes_[at];
        if (!node.right) {
            for (std::uint32_t i = node.first; i < node.last; ++i)
                search.look(triangles_[i]);
            return;
        }
        std::uint32_t near = at + 1, far = node.right;
        double near_bound = search.bound(nodes_[near].box), far_bound = search.bound(nodes_[far].box);
        if (far_bound < near_bound) std::swap(near, far), std::swap(near_bound, far_bound);
        if (near_bound < search.best()) walk(near, search);
        if (far_bound < search.best()) walk(far, search);
    }

    std::vector<Triangle> triangles_;
    std::vector<Node> nodes_;
};

} // namespace touchmark::imprint
