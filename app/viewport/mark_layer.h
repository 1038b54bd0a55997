// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/look.h"
#include "app/viewport/mark_shape.h"
#include "app/viewport/meshes.h"

#include <memory>

class vtkRenderer;

namespace touchmark::viewport {

/// The marks as relief on a part that does not have them yet. A cut lies below the surface that is drawn: where its lid
/// is in sight the part's depth is opened, then its walls and floor are drawn as if the part had the cut.
class MarkLayer {
public:
    explicit MarkLayer(vtkRenderer& overlay);
    ~MarkLayer();
    void set_marks(const std::vector<MarkShape>& marks);
    /// A face of the part to be shown as the one that is meant; an empty one: none.
    void set_face(const part::FaceMesh& face);
    void set_placement(const plate::Placement& placement);
    void set_look(const Look& look);
    void set_line_scale(double pixels);
    /// `eye`: plate coordinates.
    void set_view(Vec3 up_in_view, Vec3 eye, double near_plane, double far_plane);

private:
    void show_printed();
    struct Actors;
    std::unique_ptr<Actors> actors_;
    std::vector<std::shared_ptr<const pipeline::PrintedSurface>> shown_as_printed_;
    Look look_;
    plate::Placement placement_;
    Vec3 centre_, face_centre_; ///< what the points are drawn from
};

} // namespace touchmark::viewport
