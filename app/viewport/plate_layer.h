// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/look.h"
#include "core/plate/plate.h"

#include <vtkActor.h>
#include <vtkNew.h>
#include <vtkOpenGLPolyDataMapper.h>

class vtkRenderer;

namespace touchmark::viewport {

/// A finite sheet of the build plate under the part, ruled in millimetres, with the part's shadow on it.
class PlateLayer {
public:
    explicit PlateLayer(vtkRenderer& renderer);
    void set_part(const plate::Meshes& meshes, const plate::Placement& placement, const Box3& placed_box);
    void set_look(const Look& look);
    /// `oversampling`: pixels drawn for one shown, so that the lines look the same.
    void set_view(Vec3 eye, int oversampling);
    [[nodiscard]] double half_width() const { return half_.x; }
    [[nodiscard]] double half_depth() const { return half_.y; }

private:
    vtkNew<vtkOpenGLPolyDataMapper> mapper_;
    vtkNew<vtkActor> actor_;
    Vec2 half_{50, 50};
};

/// How dark the plate is at each node of a grid over [-half, half]², row by row from -y: 1 where the part touches it,
/// fading with the part's height above it and softened at the border.
[[nodiscard]] std::vector<float> contact_shade(const plate::Meshes& meshes, const plate::Placement& placement,
                                               Vec2 half, int nodes);

} // namespace touchmark::viewport
