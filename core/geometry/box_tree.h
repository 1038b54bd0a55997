// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <cstdint>
#include <span>
#include <vector>

namespace touchmark::geometry {

/// A static tree of boxes: who meets this box, which pairs meet each other. n log n to build.
class BoxTree {
public:
    explicit BoxTree(std::span<const Box2> boxes);

    /// visit(index) for each box that meets `box`.
    template <class Visit> void query(const Box2& box, Visit&& visit) const {
        if (!nodes_.empty()) query(0, box, visit);
    }
    /// visit(i, j), i ≠ j, once for each pair of boxes that meet, until it returns false. Returns false when stopped
    /// so.
    template <class Visit> bool pairs(Visit&& visit) const { return nodes_.empty() || within(0, visit); }

private:
    struct Node {
        Box2 box;
        std::uint32_t first = 0, last = 0; ///< range of order_
        std::uint32_t left = 0, right = 0; ///< 0: a leaf
    };
    std::uint32_t build(std::uint32_t first, std::uint32_t last);

    template <class Visit> void query(std::uint32_t at, const Box2& box, Visit&& visit) const {
        const Node& node = nodes_[at];
        if (!node.box.meets(box)) return;
        if (node.left == 0) {
            for (std::uint32_t i = node.first; i < node.last; ++i)
                if (boxes_[order_[i]].meets(box)) visit(order_[i]);
            return;
        }
        query(node.left, box, visit);
        query(node.right, box, visit);
    }
    template <class Visit> bool within(std::uint32_t at, Visit&& visit) const {
        const Node& node = nodes_[at];
        if (node.left != 0)
            return within(node.left, visit) && within(node.right, visit) && between(node.left, node.right, visit);
        for (std::uint32_t i = node.first; i < node.last; ++i)
            for (std::uint32_t j = i + 1; j < node.last; ++j)
                if (boxes_[order_[i]].meets(boxes_[order_[j]]) && !visit(order_[i], order_[j])) return false;
        return true;
    }
    template <class Visit> bool between(std::uint32_t a, std::uint32_t b, Visit&& visit) const {
        const Node &p = nodes_[a], &q = nodes_[b];
        if (!p.box.meets(q.box)) return true;
        if (p.left == 0 && q.left == 0) {
            for (std::uint32_t i = p.first; i < p.last; ++i) {
                if (!boxes_[order_[i]].meets(q.box)) continue;
                for (std::uint32_t j = q.first; j < q.last; ++j)
                    if (boxes_[order_[i]].meets(boxes_[order_[j]]) && !visit(order_[i], order_[j])) return false;
            }
            return true;
        }
        if (q.left == 0 || (p.left != 0 && p.last - p.first >= q.last - q.first))
            return between(p.left, b, visit) && between(p.right, b, visit);
        return between(a, q.left, visit) && between(a, q.right, visit);
    }

    std::vector<Box2> boxes_;
    std::vector<std::uint32_t> order_;
    std::vector<Node> nodes_;
};

} // namespace touchmark::geometry
