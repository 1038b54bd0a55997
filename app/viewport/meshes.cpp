// SPDX-License-Identifier: MIT
#include "app/viewport/meshes.h"

#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkIdTypeArray.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include <bit>
#include <optional>
#include <unordered_map>

namespace touchmark::viewport {
namespace {

using Point = std::array<float, 3>;
using Polyline = std::vector<Point>;

struct PointHash {
    std::size_t operator()(const Point& p) const {
        std::size_t hash = 0;
        for (const float value : p)
            hash = (hash ^ std::bit_cast<std::uint32_t>(value + 0.0F)) * 0x9e3779b97f4a7c15ULL; // + 0: -0 is 0
        return hash ^ (hash >> 29);
    }
};

void put(float* to, const Point& p, Vec3 centre) {
    to[0] = static_cast<float>(p[0] - centre.x);
    to[1] = static_cast<float>(p[1] - centre.y);
    to[2] = static_cast<float>(p[2] - centre.z);
}

float cosine(const Point& a, const Point& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// What is known of an edge's middle: normals of the faces that have it.
struct EdgeUse {
    const Polyline* line = nullptr;
    int faces = 0, uses = 0, last_face = -1;
    std::optional<Point> first;
    float cosine = 1;
    bool plain = true; ///< all its faces are
};

/// A point by which both copies of an edge, whichever way they run, are known.
Point key_of_edge(const Polyline& line) {
    if (line.size() > 2) return std::min(line[line.size() / 2], line[(line.size() - 1) / 2]);
    Point middle{};
    for (std::size_t i = 0; i < 3; ++i)
        middle[i] = (line.front()[i] + line.back()[i]) / 2;
    return middle;
}

} // namespace

vtkSmartPointer<vtkPolyData> triangles_of(const std::vector<const part::FaceMesh*>& meshes, Vec3 centre) {
    vtkIdType point_count = 0, triangle_count = 0;
    for (const part::FaceMesh* mesh : meshes) {
        point_count += static_cast<vtkIdType>(mesh->points.size());
        triangle_count += static_cast<vtkIdType>(mesh->triangles.size());
    }
    vtkNew<vtkFloatArray> coordinates, normals;
    for (vtkFloatArray* array : {coordinates.Get(), normals.Get()}) {
        array->SetNumberOfComponents(3);
        array->SetNumberOfTuples(point_count);
    }
    normals->SetName("normals");
    vtkNew<vtkIdTypeArray> corners, offsets;
    corners->SetNumberOfValues(triangle_count * 3);
    offsets->SetNumberOfValues(triangle_count + 1);
    float *to = coordinates->GetPointer(0), *normal = normals->GetPointer(0);
    vtkIdType* corner = corners->GetPointer(0);
    vtkIdType first = 0;
    for (const part::FaceMesh* mesh : meshes) {
        for (std::size_t i = 0; i < mesh->points.size(); ++i, to += 3, normal += 3) {
            put(to, mesh->points[i], centre);
            std::copy(mesh->normals[i].begin(), mesh->normals[i].end(), normal);
        }
        for (const auto& triangle : mesh->triangles)
            for (const std::uint32_t index : triangle)
                *corner++ = first + static_cast<vtkIdType>(index);
        first += static_cast<vtkIdType>(mesh->points.size());
    }
    for (vtkIdType i = 0; i <= triangle_count; ++i)
        offsets->SetValue(i, i * 3);
    vtkNew<vtkPoints> points;
    points->SetData(coordinates);
    vtkNew<vtkCellArray> cells;
    cells->SetData(offsets, corners);
    auto data = vtkSmartPointer<vtkPolyData>::New();
    data->SetPoints(points);
    data->SetPolys(cells);
    data->GetPointData()->SetNormals(normals);
    return data;
}

vtkSmartPointer<vtkPolyData> lines_of(const std::vector<const Polyline*>& polylines, Vec3 centre) {
    vtkNew<vtkFloatArray> coordinates;
    coordinates->SetNumberOfComponents(3);
    vtkNew<vtkCellArray> cells;
    vtkIdType next = 0;
    for (const Polyline* line : polylines) {
        if (line->size() < 2) continue;
        cells->InsertNextCell(static_cast<int>(line->size()));
        for (const Point& p : *line) {
            float at[3];
            put(at, p, centre);
            coordinates->InsertNextTuple(at);
            cells->InsertCellPoint(next++);
        }
    }
    vtkNew<vtkPoints> points;
    points->SetData(coordinates);
    auto data = vtkSmartPointer<vtkPolyData>::New();
    data->SetPoints(points);
    data->SetLines(cells);
    return data;
}

Edges edges_of(const plate::Meshes& meshes, Vec3 centre, const std::vector<bool>& plain) {
    std::unordered_map<Point, EdgeUse, PointHash> uses;
    for (std::size_t face = 0; face < meshes.size(); ++face) {
        const part::FaceMesh& mesh = *meshes[face];
        std::unordered_map<Point, std::size_t, PointHash> wanted; // points of this face's edges → normal there
        for (const Polyline& line : mesh.edges)
            for (const Point& p : line)
                wanted.emplace(p, mesh.points.size());
        for (std::size_t i = 0; i < mesh.points.size(); ++i)
            if (const auto found = wanted.find(mesh.points[i]); found != wanted.end()) found->second = i;
        for (const Polyline& line : mesh.edges) {
            if (line.size() < 2) continue;
            EdgeUse& use = uses[key_of_edge(line)];
            if (!use.line) use.line = &line;
            ++use.uses;
            use.plain = use.plain && face < plain.size() && plain[face];
            if (use.last_face == static_cast<int>(face)) continue; // the other side of a seam
            use.last_face = static_cast<int>(face);
            ++use.faces;
            const std::size_t at = wanted[line.size() > 2 ? line[line.size() / 2] : line.front()];
            if (at >= mesh.normals.size()) continue;
            if (use.first)
                use.cosine = std::min(use.cosine, cosine(*use.first, mesh.normals[at]));
            else
                use.first = mesh.normals[at];
        }
    }
    constexpr float smooth = 0.985F; // 10°
    std::vector<const Polyline*> crease, tangent;
    for (const auto& [key, use] : uses) {
        if (use.plain || (use.faces == 1 && use.uses > 1)) continue;
        (use.faces > 1 && use.cosine > smooth ? tangent : crease).push_back(use.line);
    }
    return {lines_of(crease, centre), lines_of(tangent, centre)};
}

Box3 box_of(const plate::Meshes& meshes) {
    Box3 box;
    for (const auto& mesh : meshes)
        for (const Point& p : mesh->points)
            box.add({p[0], p[1], p[2]});
    return box;
}

vtkSmartPointer<vtkMatrix4x4> matrix_of(const plate::Placement& placement, Vec3 centre) {
    auto matrix = vtkSmartPointer<vtkMatrix4x4>::New();
    const Vec3 shift = placement(centre);
    const double shifts[] = {shift.x, shift.y, shift.z};
    for (int row = 0; row < 3; ++row) {
        const Vec3& r = placement.rows[static_cast<std::size_t>(row)];
        matrix->SetElement(row, 0, r.x);
        matrix->SetElement(row, 1, r.y);
        matrix->SetElement(row, 2, r.z);
        matrix->SetElement(row, 3, shifts[row]);
    }
    return matrix;
}

} // namespace touchmark::viewport
