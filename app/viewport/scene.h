// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/camera.h"
#include "app/viewport/mark_layer.h"
#include "app/viewport/part_layer.h"
#include "app/viewport/plate_layer.h"
#include "app/viewport/vtk_host.h"

namespace touchmark::viewport {

/// The part on its plate with its marks, in a VtkHost. No Qt: the window and the command line draw the same.
class Scene {
public:
    explicit Scene(VtkHost& host);

    void set_part(const plate::Meshes& meshes, const MadeBy& made_by);
    void set_placement(const plate::Placement& placement);
    void set_kept_clear(std::vector<bool> meshes); ///< one a mesh; see PartLayer
    void set_shading(std::optional<process::Process> process, std::optional<Mode> mode);
    void set_marks(const std::vector<MarkShape>& marks);
    void set_meant_face(const part::FaceMesh& face); ///< an empty one: none
    void set_theme(Theme theme);

    /// Camera, line widths, everything that follows from them; before each frame. `device_pixels`: for one of the
    /// widget's.
    void prepare(const Camera& camera, double device_pixels);
    /// Of the part as it stands, plate coordinates.
    [[nodiscard]] Box3 box() const { return part_.placed_box(); }

private:
    VtkHost& host_;
    PlateLayer plate_;
    PartLayer part_;
    MarkLayer marks_;
    plate::Placement placement_;
};

} // namespace touchmark::viewport
