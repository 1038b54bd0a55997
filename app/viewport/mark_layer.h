// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/look.h"
#include "app/viewport/mark_shape.h"
#include "app/viewport/meshes.h"

#include <memory>

class vtkRenderer;

namespace touchmark::viewport {

/// The marks as relief on a part that does not have them yet. A cut lies below the surface that is drawn; it is shown
/// through it by pulling its depth towards the eye. Its walls and floors that face away are drawn before, as depth
/// only: together with the part's surface round it they cover exactly what could not be seen through the opening.
class MarkLayer {
public:
    explicit MarkLayer(vtkRenderer& overlay);
    ~MarkLayer();
    void set_marks(const std::vector<MarkShape>& marks);
    void set_placement(const plate::Placement& placement);
    void set_look(const Look& look);
    void set_line_scale(double pixels);
    /// `eye`: plate coordinates.
    void set_view(Vec3 up_in_view, Vec3 eye, double near_plane, double far_plane);

private:
    struct Actors;
    std::unique_ptr<Actors> actors_;
    plate::Placement placement_;
    Vec3 centre_;
    double deepest_ = 0; ///< mm
};

} // namespace touchmark::viewport
