// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/mark_shape.h"
#include "core/plate/plate.h"

#include <memory>
#include <optional>

namespace touchmark::viewport {

/// What a ray meets first; everything in part coordinates. The search tree is built at the first question.
class Picking {
public:
    Picking();
    ~Picking();
    /// One face a mesh; `host_faces` as in Viewport::set_part.
    void set_part(const plate::Meshes& meshes, const std::vector<int>& host_faces);
    /// `reach`: how far along the ray, mm.
    [[nodiscard]] std::optional<Hit> cast(Vec3 from, Vec3 direction, double reach) const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::viewport
