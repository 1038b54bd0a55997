// SPDX-License-Identifier: MIT
#include "app/tools/presenter.h"

#include "app/viewport/made_by.h"
#include "core/imprint/imprint.h"
#include "core/pipeline/footprint.h"

#include <algorithm>
#include <numeric>

namespace touchmark::tools {
namespace {

using session::Change;

constexpr double unknown_wall = 2; // mm, drawn until the evaluation says how thick the wall is

} // namespace

void Presenter::on_changed(session::Changes changes) {
    const bool part = changes & (Change::part | Change::meshes);
    if (part) surfaces_.clear();
    if (part || changes & (Change::solid | Change::job)) show_part();
    if (part || changes & Change::job) show_pose();
    if (part || changes & (Change::job | Change::selection)) show_shading();
    if (part || changes & Change::job) show_kept_clear();
    if (part || changes & (Change::job | Change::evaluation | Change::solid | Change::selection | Change::ghost))
        show_marks();
}

bool Presenter::solid_shown() const {
    const session::Session& session = around_.session;
    return session.solid() && session.solid_meshes() && !session.in_gesture() && !printed_;
}

void Presenter::show_part() {
    session::Session& session = around_.session;
    const auto solid = session.solid_meshes();
    if (solid_shown()) {
        around_.viewport.set_part(solid->meshes, solid->host_faces,
                                  viewport::made_by(*session.solid()->part, session.job()));
        return;
    }
    std::vector<int> faces(session.meshes().size());
    std::iota(faces.begin(), faces.end(), 0);
    around_.viewport.set_part(session.meshes(), faces);
}

void Presenter::show_pose() {
    const session::Session& session = around_.session;
    if (pose_ == session.job().pose && posed_ == session.meshes()) return;
    pose_ = session.job().pose;
    posed_ = session.meshes();
    const plate::Placement placement = plate::placement_of(*pose_, posed_);
    around_.viewport.set_pose(placement, plate::height_of(placement, posed_));
}

Mode Presenter::mode() const {
    const job::Job& job = around_.session.job();
    if (const job::Mark* mark = job.find(around_.session.selected_mark().toStdString())) return mark->mode;
    return job.marks.empty() ? Mode::engrave : job.marks.front().mode;
}

void Presenter::set_shaded(bool shaded) {
    shaded_ = shaded;
    show_shading();
}

void Presenter::set_printed(bool printed) {
    printed_ = printed;
    show_shading();
    show_part();
    show_marks();
}

void Presenter::show_shading() {
    const process::Process& process = around_.session.process();
    const std::optional<Mode> wanted = shaded_ && !printed_ ? std::optional(mode()) : std::nullopt;
    if (process.id == process_ && wanted == shaded_for_) return;
    process_ = process.id;
    shaded_for_ = wanted;
    around_.viewport.set_shading(process, wanted);
}

void Presenter::show_kept_clear() {
    std::vector<int> faces;
    for (const job::ClearFace& face : around_.session.job().kept_clear)
        faces.push_back(face.face);
    around_.viewport.set_kept_clear(std::move(faces));
}

/// Straight from the job, so that it does not lag behind the hand; the letters are the newest that were drawn.
std::optional<viewport::MarkShape> Presenter::shape_of(const job::Mark& mark) {
    const auto placed = around_.placed(mark.id);
    if (!placed || !placed->drawn) return std::nullopt;
    const job::Mark* drawn_for = around_.session.evaluation()->job.find(mark.id);
    const double grown = drawn_for ? content::size_of(mark.content) / content::size_of(drawn_for->content) : 1;
    imprint::Footprint footprint = pipeline::footprint_of(
        mark, placed->map,
        geometry::transformed(placed->drawn->outline, placed->placement * geometry::Affine::scale(grown)));
    if (mark.mode == Mode::through) footprint.depth = Mm(placed->wall_mm.value_or(unknown_wall));
    viewport::MarkShape shape;
    shape.id = mark.id;
    shape.relief = imprint::relief(footprint);
    shape.mode = mark.mode;
    shape.selected = around_.session.selected_mark() == text(mark.id);
    if (printed_) shape.printed = printed_surface(mark, *placed);
    shape.in_part = solid_shown() && mark.mode != Mode::hidden; // of which the solid shows nothing
    return shape;
}

/// Of the newest print that there is, where the mark is now.
std::shared_ptr<const pipeline::PrintedSurface> Presenter::printed_surface(const job::Mark& mark,
                                                                           const PlacedMark& placed) {
    const auto evaluation = around_.session.evaluation();
    const auto own = std::ranges::find(evaluation->marks, mark.id, &pipeline::MarkEvaluation::mark);
    if (own == evaluation->marks.end() || !own->printed) return nullptr;
    Surface& known = surfaces_[mark.id];
    if (known.of != own->printed || known.anchor != mark.anchor)
        known = {own->printed, mark.anchor,
                 std::make_shared<const pipeline::PrintedSurface>(
                     pipeline::printed_surface(*own->printed, mark, *placed.map, own->drawn->outline))};
    return known.made;
}

void Presenter::add_ghosts(std::vector<viewport::MarkShape>& shapes) {
    const auto ghost = around_.session.ghost();
    const auto now = around_.session.evaluation();
    if (!ghost) return;
    for (const pipeline::MarkEvaluation& mark : ghost->marks) {
        const job::Mark* wanted = ghost->job.find(mark.mark);
        const job::Mark* is = now ? now->job.find(mark.mark) : nullptr;
        if (!mark.map || !mark.drawn || !wanted || (is && *is == *wanted)) continue;
        viewport::MarkShape shape;
        shape.id = mark.mark;
        shape.relief = imprint::relief(pipeline::footprint_of(*wanted, mark.map, mark.placed));
        shape.mode = wanted->mode;
        shape.ghost = true;
        shapes.push_back(std::move(shape));
    }
}

void Presenter::show_marks() {
    std::vector<viewport::MarkShape> shapes;
    for (const job::Mark& mark : around_.session.job().marks)
        if (auto shape = shape_of(mark)) shapes.push_back(*std::move(shape));
    add_ghosts(shapes);
    around_.viewport.set_marks(std::move(shapes));
}

} // namespace touchmark::tools
