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

/// Draws nothing, but makes a hole in what was drawn before, as deep as the view, wherever its triangles are in sight
/// and lie in a surface: what is drawn after shows through it.
/// REQUIRES: a framebuffer with stencil.
class OpeningMapper : public vtkOpenGLPolyDataMapper {
public:
    vtkTypeMacro(OpeningMapper, vtkOpenGLPolyDataMapper) static OpeningMapper* New();
    void RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) override;

protected:
    OpeningMapper() = default;
};

/// Draws only what is seen through the openings drawn before.
class SunkenMapper : public vtkOpenGLPolyDataMapper {
public:
    vtkTypeMacro(SunkenMapper, vtkOpenGLPolyDataMapper) static SunkenMapper* New();
    void RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) override;

protected:
    SunkenMapper() = default;
};

/// A soft key light from the upper left of the viewer, sky from the plate's up, a little from the viewer.
/// REQUIRES: set_view() on every frame.
void light_softly(vtkActor& actor);
/// The same for the walls and floor of a cut.
/// REQUIRES: set_view() on every frame.
void light_cut(vtkActor& actor);
/// Stripes where the point attribute "avoid" is 1, in the part's own space, a few pixels apart at any zoom; where it is
/// -1, the light of a cut.
/// REQUIRES: light_softly(), set_stripes() when the zoom has changed.
void stripe_avoided(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor);
void set_stripes(vtkActor& actor, double spacing_mm);
/// Nearer to the eye by this share of the depth between the clipping planes.
void bring_nearer(vtkActor& actor, double share);
/// Lines that lie in a surface which the part draws: a hair nearer to the eye, but only where that surface faces it.
/// Point attribute "outward".
/// REQUIRES: set_eye() on every frame.
void bring_nearer_where_facing(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor);
struct Eye {
    Vec3 at; ///< in the actor's own coordinates
    double near_plane = 1, far_plane = 2;
};
void set_eye(vtkActor& actor, const Eye& eye);
/// The plate: mm lines, an edge that fades, the part's shadow from the point attribute "shade".
void draw_plate(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor);

/// The plate's up in the camera's space.
void set_view(vtkActor& actor, Vec3 up_in_view);

} // namespace touchmark::viewport
