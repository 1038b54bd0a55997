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
#include <vtkUnsignedCharArray.h>

#include <algorithm>
#include <cmath>
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

using Polyline = std::vector<std::array<float, 3>>;

/// Where the walls under an edge stand on the face.
Polyline foot_of(const Polyline& edge, const std::vector<Vec3>& rise) {
    Polyline foot;
    for (std::size_t i = 0; i < edge.size(); ++i)
        foot.push_back({static_cast<float>(edge[i][0] - rise[i].x), static_cast<float>(edge[i][1] - rise[i].y),
                        static_cast<float>(edge[i][2] - rise[i].z)});
    return foot;
}

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
    std::vector<const Polyline*> lines;
    std::vector<Vec3> outward; ///< one a point

    void add(const Polyline& line, const std::vector<Vec3>& out) {
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

bool is_departure(pipeline::Shown shown) {
    return shown == pipeline::Shown::lost || shown == pipeline::Shown::fused;
}
part::Colour colour_of(pipeline::Shown shown, const Look& look) {
    switch (shown) {
    case pipeline::Shown::face:
        return look.body;
    case pipeline::Shown::mark:
        return look.cut;
    case pipeline::Shown::lost:
        return look.lost;
    case pipeline::Shown::fused:
        return look.fused;
    }
    return look.body;
}
part::Colour grey(float level) {
    return {level, level, level};
}
void add(vtkUnsignedCharArray& colours, const part::Colour& c) {
    for (const double channel : {c.red, c.green, c.blue})
        colours.InsertNextValue(static_cast<unsigned char>(std::lround(255 * std::clamp(channel, 0.0, 1.0))));
}

} // namespace

struct MarkLayer::Actors {
    Piece opening{vtkSmartPointer<OpeningMapper>::New()};
    Piece cut{vtkSmartPointer<SunkenMapper>::New()};
    Piece printed{vtkSmartPointer<SunkenMapper>::New()};
    Piece raised, ghost, rim, accent, face, border;
    [[nodiscard]] std::array<Piece*, 9> all() {
        return {&opening, &cut,  &printed, &raised, &rim,
                &ghost,   &face, &border,  &accent}; // in the order they are drawn
    }
};

MarkLayer::MarkLayer(vtkRenderer& overlay) : actors_(std::make_unique<Actors>()) {
    Actors& a = *actors_;
    light_cut(*a.cut.actor);
    for (Piece* piece : {&a.printed, &a.raised, &a.ghost, &a.face})
        light_softly(*piece->actor);
    for (Piece* piece : {&a.opening, &a.cut, &a.printed, &a.raised, &a.ghost, &a.face})
        piece->actor->GetProperty()->BackfaceCullingOn();
    a.ghost.actor->GetProperty()->SetOpacity(0.5);
    a.face.actor->GetProperty()->SetOpacity(0.35);
    a.border.actor->GetProperty()->LightingOff();
    bring_nearer(*a.border.actor, 2e-4);
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
    std::vector<std::shared_ptr<const pipeline::PrintedSurface>> printed_marks;
    std::deque<Opened> opens;
    std::deque<Polyline> feet;
    Lines rim, accent;
    bool centred = false;
    for (const MarkShape& mark : marks) {
        const part::FaceMesh& relief = mark.relief;
        if (relief.points.empty()) continue;
        if (!std::exchange(centred, true)) centre_ = {relief.points[0][0], relief.points[0][1], relief.points[0][2]};
        if (mark.printed) {
            opening.push_back(&mark.printed->lid);
            printed_marks.push_back(mark.printed); // without the plan's outline: it would make a lost mark look crisp
            continue;
        }
        const bool is_cut = mark.mode == Mode::engrave || mark.mode == Mode::through;
        const ReliefParts parts = parts_of(relief, is_cut);
        if (mark.ghost || (mark.mode == Mode::hidden && !mark.in_part)) {
            ghost.push_back(&relief);
        } else if (!mark.in_part && is_cut) {
            const Opened& open = opens.emplace_back(opened(relief, parts.lid));
            opening.push_back(&open.lid);
            cut.push_back(&open.inside);
        } else if (!mark.in_part) {
            raised.push_back(&relief);
        } else if (!mark.selected) {
            continue;
        }
        for (std::size_t i = 0; i < parts.rise.size(); ++i) {
            (mark.selected || mark.ghost ? accent : rim).add(relief.edges[i], parts.rise[i]);
            if (mark.mode != Mode::raise || mark.in_part) continue;
            rim.add(feet.emplace_back(foot_of(relief.edges[i], parts.rise[i])), parts.rise[i]);
        }
    }
    Actors& a = *actors_;
    a.opening.show(triangles_of(opening, centre_));
    a.cut.show(triangles_of(cut, centre_));
    shown_as_printed_ = std::move(printed_marks);
    show_printed();
    a.raised.show(triangles_of(raised, centre_));
    a.ghost.show(triangles_of(ghost, centre_));
    a.rim.show(rim.data(centre_));
    a.accent.show(accent.data(centre_));
    set_placement(placement_);
}

void MarkLayer::show_printed() {
    std::vector<const part::FaceMesh*> meshes;
    vtkNew<vtkUnsignedCharArray> colours;
    colours->SetName("colours");
    colours->SetNumberOfComponents(3);
    for (const auto& printed : shown_as_printed_) {
        meshes.push_back(&printed->surface);
        for (std::size_t i = 0; i < printed->shown.size(); ++i)
            add(*colours, printed->glow.empty() || is_departure(printed->shown[i]) ? colour_of(printed->shown[i], look_)
                                                                                   : grey(printed->glow[i]));
    }
    const auto data = triangles_of(meshes, centre_);
    data->GetPointData()->SetScalars(colours);
    actors_->printed.mapper->ScalarVisibilityOn();
    actors_->printed.show(data);
}

void MarkLayer::set_face(const part::FaceMesh& face) {
    std::vector<const Polyline*> border;
    for (const Polyline& edge : face.edges)
        border.push_back(&edge);
    face_centre_ = face.points.empty() ? Vec3{} : Vec3{face.points[0][0], face.points[0][1], face.points[0][2]};
    actors_->face.show(triangles_of({&face}, face_centre_));
    actors_->border.show(lines_of(border, face_centre_));
    set_placement(placement_);
}

void MarkLayer::set_placement(const plate::Placement& placement) {
    placement_ = placement;
    const auto matrix = matrix_of(placement, centre_);
    for (Piece* piece : actors_->all())
        piece->actor->SetUserMatrix(matrix);
    const auto of_face = matrix_of(placement, face_centre_);
    for (Piece* piece : {&actors_->face, &actors_->border})
        piece->actor->SetUserMatrix(of_face);
}

void MarkLayer::set_look(const Look& look) {
    Actors& a = *actors_;
    look_ = look;
    a.cut.colour(look.cut);
    show_printed();
    a.raised.colour(look.raised);
    a.ghost.colour(look.accent);
    a.rim.colour(look.rim);
    for (Piece* piece : {&a.accent, &a.face, &a.border})
        piece->colour(look.accent);
}

void MarkLayer::set_line_scale(double pixels) {
    actors_->rim.actor->GetProperty()->SetLineWidth(static_cast<float>(pixels));
    for (Piece* piece : {&actors_->accent, &actors_->border})
        piece->actor->GetProperty()->SetLineWidth(static_cast<float>(1.5 * pixels));
}

void MarkLayer::set_view(Vec3 up_in_view, Vec3 eye, double near_plane, double far_plane) {
    Actors& a = *actors_;
    for (Piece* piece : {&a.cut, &a.printed, &a.raised, &a.ghost, &a.face})
        viewport::set_view(*piece->actor, up_in_view);
    const Eye seen_from{
        .at = placement_.back(eye - placement_.shift) - centre_, .near_plane = near_plane, .far_plane = far_plane};
    for (Piece* piece : {&a.rim, &a.accent})
        set_eye(*piece->actor, seen_from);
}

} // namespace touchmark::viewport
