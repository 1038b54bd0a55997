// SPDX-License-Identifier: MIT
#include "core/imprint/triangle_tree.h"

#include <algorithm>

namespace touchmark::imprint {

TriangleTree::TriangleTree(std::vector<Triangle> triangles) : triangles_(std::move(triangles)) {
    if (triangles_.empty()) return;
    nodes_.reserve(triangles_.size());
    build(0, static_cast<std::uint32_t>(triangles_.size()));
}

void TriangleTree::build(std::uint32_t first, std::uint32_t last) {
    constexpr std::uint32_t leaf = 4;
    const std::size_t at = nodes_.size();
    Box3 box;
    for (std::uint32_t i = first; i < last; ++i)
        for (const Vec3& corner : triangles_[i].corners)
            box.add(corner);
    nodes_.push_back({box, first, last, 0});
    if (last - first <= leaf) return;
    const Vec3 size = box.size();
    const auto key = [&](const Triangle& t) {
        const auto& [a, b, c] = t.corners;
        if (size.x >= size.y && size.x >= size.z) return a.x + b.x + c.x;
        return size.y >= size.z ? a.y + b.y + c.y : a.z + b.z + c.z;
    };
    const std::uint32_t middle = (first + last) / 2;
    std::nth_element(triangles_.begin() + first, triangles_.begin() + middle, triangles_.begin() + last,
                     [&](const Triangle& p, const Triangle& q) { return key(p) < key(q); });
    build(first, middle);
    nodes_[at].right = static_cast<std::uint32_t>(nodes_.size());
    build(middle, last);
}

} // namespace touchmark::imprint
