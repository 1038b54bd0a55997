// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/look.h"
#include "app/viewport/meshes.h"
#include "app/viewport/shading.h"

#include <vtkNew.h>

class vtkRenderer;

namespace touchmark::viewport {

/// How each mesh of a part came about: empty or nullopt: the part's own.
using MadeBy = std::vector<std::optional<Mode>>;

/// The part's surface, shaded by zone, and its edges.
class PartLayer {
public:
    explicit PartLayer(vtkRenderer& renderer);
    ~PartLayer();

    void set_part(const plate::Meshes& meshes, const MadeBy& made_by);
    void set_placement(const plate::Placement& placement);
    void set_shading(std::optional<process::Process> process, std::optional<Mode> mode);
    void set_look(const Look& look);
    void set_line_scale(double pixels);
    /// On every frame.
    void set_view(Vec3 up_in_view, double pixels_per_mm);

    [[nodiscard]] const Box3& box() const { return box_; } ///< part coordinates
    [[nodiscard]] Box3 placed_box() const { return placed_box_; }
    [[nodiscard]] Vec3 centre() const { return centre_; }
    [[nodiscard]] const plate::Meshes& meshes() const { return meshes_; }

private:
    void paint();

    struct Actors;
    std::unique_ptr<Actors> actors_;
    plate::Meshes meshes_;
    MadeBy made_by_;
    plate::Placement placement_;
    std::optional<process::Process> process_;
    std::optional<Mode> mode_;
    Look look_;
    Box3 box_, placed_box_;
    Vec3 centre_;
};

} // namespace touchmark::viewport
