// SPDX-License-Identifier: MIT
#include "app/viewport/picture.h"

#include "app/viewport/made_by.h"
#include "app/viewport/pixel_buffer.h"
#include "app/viewport/scene.h"
#include "core/base/atomic_file.h"
#include "core/pipeline/footprint.h"

#include <QBuffer>

#include <algorithm>

namespace touchmark::viewport {
namespace {

/// What nobody would see otherwise.
std::vector<MarkShape> hidden_marks(const pipeline::Evaluation& evaluation) {
    std::vector<MarkShape> shapes;
    for (const pipeline::MarkEvaluation& drawn : evaluation.marks) {
        const auto mark = std::ranges::find(evaluation.job.marks, drawn.mark, &job::Mark::id);
        if (mark == evaluation.job.marks.end() || mark->mode != Mode::hidden || !drawn.map) continue;
        MarkShape& shape = shapes.emplace_back();
        shape.id = drawn.mark;
        shape.relief = imprint::relief(pipeline::footprint_of(*mark, drawn.map, drawn.placed));
        shape.mode = mark->mode;
    }
    return shapes;
}

/// Out of the face where its mark is: a round face looks elsewhere in its middle.
Vec3 outward(const part::Face& face, const pipeline::Evaluation& evaluation) {
    for (const pipeline::MarkEvaluation& mark : evaluation.marks)
        if (mark.map && mark.map->face() == face.index && !mark.placed.empty())
            return mark.map->normal(geometry::bounds(mark.placed).centre());
    return face.frame.z;
}

Camera camera_for(const part::Part& part, const Scene& scene, const pipeline::Evaluation& evaluation,
                  const PictureOptions& options) {
    const plate::Placement& placement = evaluation.placement;
    Camera camera;
    camera.azimuth = 0.6;
    camera.elevation = 0.45;
    const double aspect = static_cast<double>(options.width) / options.height;
    const bool whole = options.face < 0 || options.face >= static_cast<int>(part.faces().size());
    if (whole) return fitted(camera, scene.box(), aspect);
    const part::Face& face = part.faces()[static_cast<std::size_t>(options.face)];
    camera = facing(camera, placement.direction(outward(face, evaluation)));
    Box3 box;
    for (int corner = 0; corner < 8; ++corner)
        box.add(placement({(corner & 1) != 0 ? face.box.low.x : face.box.high.x,
                           (corner & 2) != 0 ? face.box.low.y : face.box.high.y,
                           (corner & 4) != 0 ? face.box.low.z : face.box.high.z}));
    camera = fitted(camera, box, aspect);
    return camera;
}

} // namespace

Status write_picture(const part::Part& part, const pipeline::Evaluation& evaluation, const process::Process& process,
                     const std::filesystem::path& png, const PictureOptions& options) {
    auto meshes = part::tessellate(part, {}, Progress());
    if (!meshes) return std::unexpected(meshes.error());
    PixelBuffer buffer;
    if (!buffer.works())
        return fail("picture.no_graphics", "No picture could be drawn: this machine has no OpenGL.",
                    "Install libegl1 and libgl1-mesa-dri; they draw without a display.");
    buffer.host().set_oversampling(2);
    buffer.host().resize(options.width, options.height);
    Scene scene(buffer.host());
    scene.set_shading(process, options.shade_for);
    scene.set_part(*meshes, made_by(part, evaluation.job));
    scene.set_marks(hidden_marks(evaluation));
    scene.set_placement(evaluation.placement);
    scene.prepare(camera_for(part, scene, evaluation, options), std::max(1.0, options.width / 1280.0));
    QByteArray bytes;
    QBuffer file(&bytes);
    if (!buffer.draw().save(&file, "PNG"))
        return fail("picture.no_graphics", "The picture could not be encoded as PNG.");
    return write_text_atomically(png, {bytes.constData(), static_cast<std::size_t>(bytes.size())});
}

} // namespace touchmark::viewport
