// SPDX-License-Identifier: MIT
#include "app/viewport/mark_layer.h"

#include "app/viewport/relief_parts.h"
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

/// What a cut opens, and what is seen through it.
struct Opened {
    part::FaceMesh lid, inside;
};

Opened opened(const part::FaceMesh& relief, std::size_t lid) {
    const auto until = relief.triangles.begin() + static_cast<std::ptrdiff_t>(lid);
    return {.lid = {.points = relief.points,
                    .normals = relief.normals,
                    .triangles = {relief.triangles.begin(), until},
                    .edges = {}},
            .inside = {.points = relief.points,
                       .normals = relief.normals,
                       .triangles = {until, relief.triangles.end()},
                       .edges = {}}};
}

/// Outlines and which way their face looks.
struct Lines {
    std::vector<const std::vector<std::array<float, 3>>*> lines;
    std::vector<Vec3> outward; ///< one a point

    void add(const std::vector<std::array<float, 3>>& line, const std::vector<Vec3>& out) {
        if (line.size() < 2) return;
        lines.push_back(&line);
        outward.insert(outward.end(), out.begin(), out.end());
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
        const ReliefParts parts = parts_of(relief, mark.mode == Mode::engrave);
        if (mark.ghost) {
            ghost.push_back(&relief);
        } else if (!mark.in_part && mark.mode == Mode::engrave) {
            const Opened& open = opens.emplace_back(opened(relief, parts.lid));
            opening.push_back(&open.lid);
            cut.push_back(&open.inside);
        } else if (!mark.in_part) {
            raised.push_back(&relief);
        } else if (!mark.selected) {
            continue;
        }
        for (std::size_t i = 0; i < parts.outward.size(); ++i)
            (mark.selected || mark.ghost ? accent : rim).add(relief.edges[i], parts.outward[i]);
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
