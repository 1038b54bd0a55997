// SPDX-License-Identifier: MIT
#include "app/viewport/mark_layer.h"

#include "app/viewport/shaders.h"

#include <vtkActor.h>
#include <vtkFloatArray.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <deque>

namespace touchmark::viewport {
namespace {

struct Piece {
    vtkSmartPointer<vtkOpenGLPolyDataMapper> mapper;
    vtkNew<vtkActor> actor;

    explicit Piece(vtkSmartPointer<vtkOpenGLPolyDataMapper> with = vtkSmartPointer<vtkOpenGLPolyDataMapper>::New())
        : mapper(std::move(with)) {
        mapper->SetVBOShiftScaleMethod(0);
        actor->SetMapper(mapper);
    }
    void show(vtkPolyData* data) {
        actor->SetVisibility(data->GetNumberOfPoints() > 0);
        mapper->SetInputData(data);
    }
    void colour(const part::Colour& c) { actor->GetProperty()->SetColor(c.red, c.green, c.blue); }
};

/// How a relief lies: the direction that most of its area faces, and its heights along it.
struct Lie {
    Vec3 out{0, 0, 1};
    double low = 0, high = 0;
};

Lie lie_of(const part::FaceMesh& relief) {
    Lie lie;
    Vec3 sum;
    for (const auto& n : relief.normals)
        sum = sum + Vec3{n[0], n[1], n[2]};
    if (length(sum) < 1e-9) return lie;
    lie.out = normalised(sum);
    lie.low = std::numeric_limits<double>::infinity();
    lie.high = -lie.low;
    for (const auto& p : relief.points) {
        const double at = dot(lie.out, Vec3{p[0], p[1], p[2]});
        lie.low = std::min(lie.low, at);
        lie.high = std::max(lie.high, at);
    }
    return lie;
}

/// A cut's relief comes closed by a lid in the face: what it opens, and what is seen through it.
struct Opened {
    part::FaceMesh lid, inside;
};

Opened opened(const part::FaceMesh& relief, const Lie& lie) {
    Opened parts{.lid = {.points = relief.points, .normals = relief.normals, .triangles = {}, .edges = {}},
                 .inside = {.points = relief.points, .normals = relief.normals, .triangles = {}, .edges = {}}};
    const double rim = lie.low + 0.75 * (lie.high - lie.low);
    const auto in_lid = [&](std::uint32_t i) {
        const auto &p = relief.points[i], &n = relief.normals[i];
        return dot(lie.out, Vec3{n[0], n[1], n[2]}) > 0.5 && dot(lie.out, Vec3{p[0], p[1], p[2]}) > rim;
    };
    for (const auto& triangle : relief.triangles)
        (std::ranges::all_of(triangle, in_lid) ? parts.lid : parts.inside).triangles.push_back(triangle);
    return parts;
}

/// Outlines and which way their face looks.
struct Lines {
    std::vector<const std::vector<std::array<float, 3>>*> lines;
    std::vector<Vec3> outward; ///< one a point

    void add(const std::vector<std::array<float, 3>>& line, Vec3 out) {
        if (line.size() < 2) return;
        lines.push_back(&line);
        outward.insert(outward.end(), line.size(), out);
    }
    [[nodiscard]] vtkSmartPointer<vtkPolyData> data(Vec3 centre) const {
        const auto made = lines_of(lines, centre);
        vtkNew<vtkFloatArray> outwards;
        outwards->SetName("outward");
        outwards->SetNumberOfComponents(3);
        for (const Vec3& out : outward)
            outwards->InsertNextTuple3(out.x, out.y, out.z);
        made->GetPointData()->AddArray(outwards);
        return made;
    }
};

} // namespace

struct MarkLayer::Actors {
    Piece opening{vtkSmartPointer<OpeningMapper>::New()};
    Piece cut{vtkSmartPointer<SunkenMapper>::New()};
    Piece raised, ghost, rim, accent;
    [[nodiscard]] std::array<Piece*, 6> all() {
        return {&opening, &cut, &raised, &rim, &ghost, &accent}; // in the order they are drawn
    }
};

MarkLayer::MarkLayer(vtkRenderer& overlay) : actors_(std::make_unique<Actors>()) {
    Actors& a = *actors_;
    light_cut(*a.cut.actor);
    for (Piece* piece : {&a.raised, &a.ghost})
        light_softly(*piece->actor);
    for (Piece* piece : {&a.opening, &a.cut, &a.raised, &a.ghost})
        piece->actor->GetProperty()->BackfaceCullingOn();
    a.ghost.actor->GetProperty()->SetOpacity(0.5);
    for (Piece* piece : {&a.rim, &a.accent}) {
        piece->actor->GetProperty()->LightingOff();
        bring_nearer_where_facing(*piece->mapper, *piece->actor);
    }
    for (Piece* piece : a.all()) {
        piece->actor->VisibilityOff();
        overlay.AddActor(piece->actor);
    }
    set_look(look_of(Theme::light));
}

MarkLayer::~MarkLayer() = default;

void MarkLayer::set_marks(const std::vector<MarkShape>& marks) {
    std::vector<const part::FaceMesh*> opening, cut, raised, ghost;
    std::deque<Opened> opens;
    Lines rim, accent;
    bool centred = false;
    for (const MarkShape& mark : marks) {
        const part::FaceMesh& relief = mark.relief;
        if (relief.points.empty()) continue;
        if (!std::exchange(centred, true)) centre_ = {relief.points[0][0], relief.points[0][1], relief.points[0][2]};
        const Lie lie = lie_of(relief);
        if (mark.ghost) {
            ghost.push_back(&relief);
        } else if (!mark.in_part && mark.mode == Mode::engrave) {
            const Opened& parts = opens.emplace_back(opened(relief, lie));
            opening.push_back(&parts.lid);
            cut.push_back(&parts.inside);
        } else if (!mark.in_part) {
            raised.push_back(&relief);
        } else if (!mark.selected) {
            continue;
        }
        for (const auto& line : relief.edges)
            (mark.selected || mark.ghost ? accent : rim).add(line, lie.out);
    }
    Actors& a = *actors_;
    a.opening.show(triangles_of(opening, centre_));
    a.cut.show(triangles_of(cut, centre_));
    a.raised.show(triangles_of(raised, centre_));
    a.ghost.show(triangles_of(ghost, centre_));
    a.rim.show(rim.data(centre_));
    a.accent.show(accent.data(centre_));
    set_placement(placement_);
}

void MarkLayer::set_placement(const plate::Placement& placement) {
    placement_ = placement;
    const auto matrix = matrix_of(placement, centre_);
    for (Piece* piece : actors_->all())
        piece->actor->SetUserMatrix(matrix);
}

void MarkLayer::set_look(const Look& look) {
    Actors& a = *actors_;
    a.cut.colour(look.cut);
    a.raised.colour(look.raised);
    a.ghost.colour(look.accent);
    a.rim.colour(look.rim);
    a.accent.colour(look.accent);
}

void MarkLayer::set_line_scale(double pixels) {
    actors_->rim.actor->GetProperty()->SetLineWidth(static_cast<float>(pixels));
    actors_->accent.actor->GetProperty()->SetLineWidth(static_cast<float>(1.5 * pixels));
}

void MarkLayer::set_view(Vec3 up_in_view, Vec3 eye, double near_plane, double far_plane) {
    Actors& a = *actors_;
    for (Piece* piece : {&a.cut, &a.raised, &a.ghost})
        viewport::set_view(*piece->actor, up_in_view);
    const Eye seen_from{
        .at = placement_.back(eye - placement_.shift) - centre_, .near_plane = near_plane, .far_plane = far_plane};
    for (Piece* piece : {&a.rim, &a.accent})
        set_eye(*piece->actor, seen_from);
}

} // namespace touchmark::viewport
