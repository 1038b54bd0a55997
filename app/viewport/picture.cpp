// SPDX-License-Identifier: MIT
#include "app/viewport/picture.h"

#include "app/viewport/made_by.h"
#include "app/viewport/pixel_buffer.h"
#include "app/viewport/scene.h"
#include "core/base/atomic_file.h"
#include "core/imprint/clearance.h"
#include "core/imprint/material_along.h"
#include "core/pipeline/footprint.h"

#include <QBuffer>

#include <algorithm>
#include <cmath>

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

/// Whether nothing of the part is in the way.
bool is_clear(const part::Part& part, const imprint::Obstacles& obstacles, Vec3 from, Vec3 way) {
    for (std::size_t body = 0; body < part.bodies().size(); ++body)
        if (imprint::material_along(obstacles.mesh_of(static_cast<int>(body)), from, way) > 0) return false;
    return true;
}

/// From where the face is seen best: straight over its mark, for a round face looks elsewhere in its middle; leaning
/// over as little as it takes where the part itself is in the way, as in a bore.
Vec3 outward(const part::Part& part, const part::Face& face, const pipeline::Evaluation& evaluation) {
    for (std::size_t i = 0; i < evaluation.marks.size(); ++i) {
        const pipeline::MarkEvaluation& mark = evaluation.marks[i];
        if (!mark.map || mark.map->face() != face.index || mark.placed.empty()) continue;
        const Vec2 at = geometry::bounds(mark.placed).centre();
        const Vec3 normal = mark.map->normal(at), x = mark.map->x_direction(at), y = cross(normal, x);
        const auto obstacles = imprint::Obstacles::of(part, part::Deflection{}, Progress());
        if (!obstacles) return normal;
        const job::Mark& own = evaluation.job.marks[i];
        const double over = (own.mode == Mode::raise ? own.depth.value : 0) + 0.05;
        const Vec3 from = mark.map->point(at) + normal * over;
        for (const double lean : {0.0, 20.0, 40.0, 55.0, 65.0, 75.0})
            for (double turn = 0; turn < 360; turn += 30) {
                const double tilt = Degrees(lean).radians(), about = Degrees(turn).radians();
                const Vec3 aside = x * std::cos(about) + y * std::sin(about);
                const Vec3 way = normal * std::cos(tilt) + aside * std::sin(tilt);
                if (is_clear(part, **obstacles, from, way)) return way;
            }
        return normal;
    }
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
    camera = facing(camera, placement.direction(outward(part, face, evaluation)));
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
