// SPDX-License-Identifier: MIT
#include "app/tools/surroundings.h"

#include <algorithm>
#include <cmath>
#include <ranges>

namespace touchmark::tools {
namespace {

constexpr double grab_pixels = 5;
constexpr double least_rise = 0.25; ///< of the plate's up along the face; less: the face looks up or down

const pipeline::MarkEvaluation* evaluation_of(const session::Session& session, std::string_view mark) {
    const auto evaluation = session.evaluation();
    if (!evaluation) return nullptr;
    const auto found = std::ranges::find(evaluation->marks, mark, &pipeline::MarkEvaluation::mark);
    return found != evaluation->marks.end() ? &*found : nullptr;
}

} // namespace

Degrees normalised(Degrees angle) {
    const double turned = std::remainder(angle.value, 360);
    return Degrees(turned <= -180 ? turned + 360 : turned);
}

QString reason(const Error& error) {
    if (error.code == "surface.no_map") return session::Session::tr("Marks cannot go on a face of this kind.");
    return text(error.message);
}

Vec2 PlacedMark::to_mark(Vec2 on_face) const {
    const Vec2 off = on_face - placement.shift;
    const double scale = placement.xx * placement.yy - placement.xy * placement.yx;
    return {(placement.yy * off.x - placement.xy * off.y) / scale,
            (placement.xx * off.y - placement.yx * off.x) / scale};
}

Result<surface::FaceMapPtr> Surroundings::map(int face) {
    if (mapped_part_ != session.part()) {
        mapped_part_ = session.part();
        maps_.clear();
        laid_.clear();
    }
    if (!mapped_part_) return fail("surface.no_face", "No part is open.");
    const auto found = maps_.find(face);
    if (found != maps_.end()) return found->second;
    return maps_.emplace(face, surface::map_face(*mapped_part_, face)).first->second;
}

surface::FaceMapPtr Surroundings::about_anchor(const job::Mark& mark, const surface::FaceMapPtr& whole) {
    if (!surface::is_laid_about_its_anchor(whole->kind())) return whole;
    Laid& laid = laid_[mark.id];
    if (laid.whole != whole || laid.at != mark.anchor.at || laid.laying != mark.laying)
        laid = {whole, whole->about(mark.anchor.at, mark.laying), mark.anchor.at, mark.laying};
    return laid.about;
}

std::optional<PlacedMark> Surroundings::placed(std::string_view mark) {
    PlacedMark placed;
    placed.mark = session.job().find(mark);
    if (!placed.mark) return std::nullopt;
    const auto on = map(placed.mark->anchor.face);
    if (!on) return std::nullopt;
    placed.map = about_anchor(*placed.mark, *on);
    placed.placement = surface::placement(placed.mark->anchor.at, placed.mark->anchor.turn);
    const double high = content::size_of(placed.mark->content).value;
    placed.extent = {{-high, -high / 2}, {high, high / 2}};
    if (const auto* evaluated = evaluation_of(session, mark); evaluated && evaluated->drawn) {
        placed.drawn = evaluated->drawn;
        placed.wall_mm = evaluated->wall_mm;
        const job::Mark* drawn_for = session.evaluation()->job.find(mark);
        const double grown = drawn_for ? high / content::size_of(drawn_for->content).value : 1;
        placed.extent = {placed.drawn->extent.low * grown, placed.drawn->extent.high * grown};
    }
    return placed;
}

std::optional<PlacedMark> Surroundings::selected() {
    return placed(session.selected_mark().toStdString());
}

std::optional<PlacedMark> Surroundings::mark_under(QPointF at) {
    const auto hit = viewport.pick(at);
    if (!hit) return std::nullopt;
    const double slack = grab_pixels / std::max(viewport.pixels_per_mm(hit->point), 1e-6);
    const auto lies_under = [&](const std::optional<PlacedMark>& placed) {
        if (!placed || placed->mark->anchor.face != hit->face) return false;
        const Vec2 p = placed->to_mark(placed->map->locate(hit->point));
        const Box2& box = placed->extent;
        return p.x > box.low.x - slack && p.x < box.high.x + slack && p.y > box.low.y - slack &&
               p.y < box.high.y + slack;
    };
    if (auto chosen = selected(); lies_under(chosen)) return chosen;
    for (const job::Mark& mark : session.job().marks | std::views::reverse)
        if (auto other = placed(mark.id); lies_under(other)) return other;
    return std::nullopt;
}

Degrees Surroundings::upright(const surface::FaceMap& map, Vec2 at) const {
    const plate::Placement placement = plate::placement_of(session.job().pose, session.meshes());
    const Vec3 up = placement.back({0, 0, 1}), right = map.x_direction(at), above = cross(map.normal(at), right);
    const Vec2 rise{dot(up, right), dot(up, above)};
    if (length(rise) > least_rise) return normalised(Degrees::from_radians(std::atan2(rise.y, rise.x)) - Degrees(90));
    const Vec3 middle = map.point(at);
    Degrees best;
    double most = -std::numeric_limits<double>::infinity();
    for (int quarter = 0; quarter < 4; ++quarter) {
        const Degrees turn(90.0 * quarter);
        const Vec3 reading = right * std::cos(turn.radians()) + above * std::sin(turn.radians());
        const double rightwards = (viewport.to_widget(middle + reading) - viewport.to_widget(middle)).x();
        if (rightwards <= most) continue;
        most = rightwards;
        best = turn;
    }
    return normalised(best);
}

job::Anchor Surroundings::anchor(const surface::FaceMap& map, Vec2 at, Degrees turn) const {
    job::Anchor anchor;
    anchor.face = map.face();
    anchor.fingerprint = session.part()->faces()[static_cast<std::size_t>(map.face())].fingerprint;
    anchor.at = at;
    anchor.turn = normalised(turn);
    return anchor;
}

void Surroundings::pick_faces(bool picking) {
    viewport.set_dragging(picking);
    if (picking)
        viewport.setCursor(Qt::PointingHandCursor);
    else
        viewport.unsetCursor();
    viewport.update_overlay();
}

void Surroundings::show_meant(int face) {
    const plate::Meshes& meshes = session.meshes();
    const bool any = face >= 0 && face < static_cast<int>(meshes.size());
    viewport.set_meant_face(any ? *meshes[static_cast<std::size_t>(face)] : part::FaceMesh());
}

std::optional<Vec2> Surroundings::on_face(const surface::FaceMap& map, Vec2 near, QPointF at) const {
    const auto met = viewport.meet_plane(at, map.point(near), map.normal(near));
    if (!met) return std::nullopt;
    return map.locate(*met);
}

} // namespace touchmark::tools
