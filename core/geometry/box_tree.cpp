// SPDX-License-Identifier: MIT
#include "core/geometry/box_tree.h"

#include <algorithm>
#include <numeric>

namespace touchmark::geometry {

BoxTree::BoxTree(std::span<const Box2> boxes) : boxes_(boxes.begin(), boxes.end()), order_(boxes.size()) {
    std::iota(order_.begin(), order_.end(), 0u);
    nodes_.reserve(boxes.size() / 2 + 2);
    if (!boxes_.empty()) build(0, static_cast<std::uint32_t>(boxes_.size()));
}

std::uint32_t BoxTree::build(std::uint32_t first, std::uint32_t last) {
    const auto at = static_cast<std::uint32_t>(nodes_.size());
    nodes_.emplace_back();
    Box2 box;
    for (std::uint32_t i = first; i < last; ++i)
        box.add(boxes_[order_[i]]);
    nodes_[at].box = box;
    nodes_[at].first = first;
    nodes_[at].last = last;
    if (last - first <= 6) return at;
    const std::uint32_t middle = first + (last - first) / 2;
    const bool wide = box.width() > box.height();
    std::nth_element(order_.begin() + first, order_.begin() + middle, order_.begin() + last,
                     [&](std::uint32_t a, std::uint32_t b) {
                         const Vec2 p = boxes_[a].low + boxes_[a].high, q = boxes_[b].low + boxes_[b].high;
                         return wide ? p.x < q.x : p.y < q.y;
                     });
    const std::uint32_t left = build(first, middle);
    const std::uint32_t right = build(middle, last);
    nodes_[at].left = left;
    nodes_[at].right = right;
    return at;
}

} // namespace touchmark::geometry
