// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <vtkOpenGLPolyDataMapper.h>
#include <vtkSmartPointer.h>

class vtkActor;

namespace touchmark::viewport {

/// Fills triangles a hair behind where they are, by their slope, so that lines on them win without stippling.
class RecedingMapper : public vtkOpenGLPolyDataMapper {
public:
    vtkTypeMacro(RecedingMapper, vtkOpenGLPolyDataMapper) static RecedingMapper* New();
    void RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) override;

protected:
    RecedingMapper() = default;
};

/// A soft key light from the upper left of the viewer, sky from the plate's up, a little from the viewer.
/// REQUIRES: set_view() on every frame.
void light_softly(vtkActor& actor);
/// Stripes across what the point attribute "avoid" marks, in the part's own space, a few pixels apart at any zoom.
/// REQUIRES: light_softly(), set_stripes() when the zoom has changed.
void stripe_avoided(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor);
void set_stripes(vtkActor& actor, double spacing_mm);
/// Nearer to the eye by this share of the depth between the clipping planes.
void bring_nearer(vtkActor& actor, double share);
/// Depth only: everything comes nearer by a number of mm, so that what lies under a surface shows through it.
/// REQUIRES: set_pull() on every frame.
void pull_through(vtkActor& actor);
/// The same for lines, but only where the surface that they lie on faces the eye: point attribute "outward".
void pull_through_where_facing(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor);
struct Pull {
    double millimetres = 0, near_plane = 1, far_plane = 2;
    Vec3 eye; ///< in the actor's own coordinates
};
void set_pull(vtkActor& actor, const Pull& pull);
/// Writes depth and no colour.
void mask_only(vtkActor& actor);
/// The plate: mm lines, an edge that fades, the part's shadow from the point attribute "shade".
void draw_plate(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor);

/// The plate's up in the camera's space.
void set_view(vtkActor& actor, Vec3 up_in_view);

} // namespace touchmark::viewport
