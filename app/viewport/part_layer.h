// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/look.h"
#include "app/viewport/meshes.h"
#include "app/viewport/shading.h"

#include <vtkNew.h>
#include <vtkPolyData.h>

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
    /// For each mesh whether its face is kept clear of marks: then tinted and hatched. Until the next set_part().
    void set_kept_clear(std::vector<bool> kept);
    void set_look(const Look& look);
    void set_line_scale(double pixels);
    /// On every frame.
    void set_view(Vec3 up_in_view, double pixels_per_mm);

    [[nodiscard]] Box3 placed_box() const { return placed_box_; } ///< plate coordinates
    [[nodiscard]] const plate::Meshes& meshes() const { return shown_.meshes; }

private:
    /// What is made of a list of meshes, once.
    struct Built {
        plate::Meshes meshes;
        vtkSmartPointer<vtkPolyData> surface;
        Edges edges;
        Vec3 centre;
    };
    [[nodiscard]] static Built build(const plate::Meshes& meshes, const MadeBy& made_by);
    void paint();

    struct Actors;
    std::unique_ptr<Actors> actors_;
    Built shown_, before_; ///< the marked part and the unmarked one take turns
    MadeBy made_by_;
    std::vector<bool> kept_clear_;
    plate::Placement placement_;
    std::optional<process::Process> process_;
    std::optional<Mode> mode_;
    Look look_;
    Box3 placed_box_;
};

} // namespace touchmark::viewport
