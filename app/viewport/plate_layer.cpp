// SPDX-License-Identifier: MIT
#include "app/viewport/plate_layer.h"

#include "app/viewport/shaders.h"

#include <vtkActor.h>
#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>
#include <vtkShaderProperty.h>
#include <vtkUniforms.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::viewport {
namespace {

constexpr int nodes = 128;
constexpr double sheet_z = -0.03; ///< mm under the part's lowest point, so that the two never share a depth

double rounded_half(double extent) {
    const double wanted = extent / 2 + std::max(20.0, extent * 0.22);
    return std::ceil(wanted / 10) * 10;
}

/// Lowest height of the part over each node; infinite where there is none.
class LowestHeights {
public:
    LowestHeights(Vec2 half, int count)
        : half_(half), count_(count),
          heights_(static_cast<std::size_t>(count) * static_cast<std::size_t>(count), infinity) {}

    void add(Vec3 a, Vec3 b, Vec3 c) {
        const Vec3 p[] = {to_grid(a), to_grid(b), to_grid(c)};
        const auto [left, right] = std::minmax({p[0].x, p[1].x, p[2].x});
        const auto [low, high] = std::minmax({p[0].y, p[1].y, p[2].y});
        const double doubled = (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[2].x - p[0].x) * (p[1].y - p[0].y);
        lower(p[0]), lower(p[1]), lower(p[2]); // slivers too
        if (std::abs(doubled) < 1e-9) return;
        for (int y = first(low); y <= last(high); ++y)
            for (int x = first(left); x <= last(right); ++x) {
                const double u = ((p[1].x - x) * (p[2].y - y) - (p[2].x - x) * (p[1].y - y)) / doubled;
                const double v = ((p[2].x - x) * (p[0].y - y) - (p[0].x - x) * (p[2].y - y)) / doubled;
                if (u < 0 || v < 0 || u + v > 1) continue;
                lower({static_cast<double>(x), static_cast<double>(y), u * p[0].z + v * p[1].z + (1 - u - v) * p[2].z});
            }
    }

    [[nodiscard]] const std::vector<double>& heights() const { return heights_; }
    static constexpr double infinity = std::numeric_limits<double>::infinity();

private:
    [[nodiscard]] Vec3 to_grid(Vec3 p) const {
        return {(p.x / half_.x + 1) / 2 * (count_ - 1), (p.y / half_.y + 1) / 2 * (count_ - 1), p.z};
    }
    [[nodiscard]] int first(double from) const { return std::max(0, static_cast<int>(std::ceil(from))); }
    [[nodiscard]] int last(double to) const { return std::min(count_ - 1, static_cast<int>(std::floor(to))); }
    void lower(Vec3 at) {
        const int x = static_cast<int>(std::lround(at.x)), y = static_cast<int>(std::lround(at.y));
        if (x < 0 || y < 0 || x >= count_ || y >= count_) return;
        double& height = heights_[static_cast<std::size_t>(y * count_ + x)];
        height = std::min(height, at.z);
    }

    Vec2 half_;
    int count_;
    std::vector<double> heights_;
};

/// Three passes of a running mean come close to a Gaussian.
void soften(std::vector<float>& values, int count, int radius) {
    std::vector<float> line(static_cast<std::size_t>(count));
    const auto pass = [&](int start, int step) {
        for (int i = 0; i < count; ++i)
            line[static_cast<std::size_t>(i)] = values[static_cast<std::size_t>(start + i * step)];
        for (int i = 0; i < count; ++i) {
            float sum = 0;
            for (int j = std::max(0, i - radius); j <= std::min(count - 1, i + radius); ++j)
                sum += line[static_cast<std::size_t>(j)];
            values[static_cast<std::size_t>(start + i * step)] = sum / static_cast<float>(2 * radius + 1);
        }
    };
    for (int times = 0; times < 3; ++times)
        for (int i = 0; i < count; ++i) {
            pass(i * count, 1);
            pass(i, count);
        }
}

} // namespace

std::vector<float> contact_shade(const plate::Meshes& meshes, const plate::Placement& placement, Vec2 half, int count) {
    LowestHeights lowest(half, count);
    for (const auto& mesh : meshes) {
        const auto at = [&](std::uint32_t i) {
            const auto& p = mesh->points[i];
            return placement(Vec3{p[0], p[1], p[2]});
        };
        for (const auto& [a, b, c] : mesh->triangles)
            lowest.add(at(a), at(b), at(c));
    }
    const double fading = std::max(half.x, half.y) * 0.12; // mm of height over which a shadow wears off
    std::vector<float> shade;
    shade.reserve(lowest.heights().size());
    for (const double height : lowest.heights())
        shade.push_back(static_cast<float>(std::exp(-std::max(height, 0.0) / fading)));
    soften(shade, count, std::max(1, count / 64));
    return shade;
}

PlateLayer::PlateLayer(vtkRenderer& renderer) {
    mapper_->SetVBOShiftScaleMethod(0);
    actor_->SetMapper(mapper_);
    actor_->ForceTranslucentOn();
    draw_plate(*mapper_, *actor_);
    renderer.AddActor(actor_);
    set_part({}, {}, {});
    set_look(look_of(Theme::light));
    set_view({0, 0, 1}, 1);
}

void PlateLayer::set_part(const plate::Meshes& meshes, const plate::Placement& placement, const Box3& placed_box) {
    actor_->SetVisibility(!meshes.empty());
    half_ = {rounded_half(placed_box.size().x), rounded_half(placed_box.size().y)};
    const std::vector<float> shades = contact_shade(meshes, placement, half_, nodes);
    vtkNew<vtkFloatArray> coordinates, shade;
    coordinates->SetNumberOfComponents(3);
    shade->SetName("shade");
    vtkNew<vtkCellArray> cells;
    for (int y = 0; y < nodes; ++y)
        for (int x = 0; x < nodes; ++x) {
            coordinates->InsertNextTuple3((2.0 * x / (nodes - 1) - 1) * half_.x, (2.0 * y / (nodes - 1) - 1) * half_.y,
                                          sheet_z);
            const vtkIdType here = static_cast<vtkIdType>(y) * nodes + x;
            shade->InsertNextValue(shades[static_cast<std::size_t>(here)]);
            if (x + 1 == nodes || y + 1 == nodes) continue;
            const vtkIdType one[] = {here, here + 1, here + nodes + 1},
                            other[] = {here, here + nodes + 1, here + nodes};
            cells->InsertNextCell(3, one);
            cells->InsertNextCell(3, other);
        }
    vtkNew<vtkPoints> points;
    points->SetData(coordinates);
    vtkNew<vtkPolyData> data;
    data->SetPoints(points);
    data->SetPolys(cells);
    data->GetPointData()->AddArray(shade);
    mapper_->SetInputData(data);
    const std::array half{static_cast<float>(half_.x), static_cast<float>(half_.y)};
    actor_->GetShaderProperty()->GetFragmentCustomUniforms()->SetUniform2f("plateHalf", half.data());
}

void PlateLayer::set_look(const Look& look) {
    actor_->GetProperty()->SetColor(look.plate.red, look.plate.green, look.plate.blue);
    vtkUniforms* uniforms = actor_->GetShaderProperty()->GetFragmentCustomUniforms();
    const std::array line{look.plate_line.red, look.plate_line.green, look.plate_line.blue};
    uniforms->SetUniform3f("plateLine", line.data());
    uniforms->SetUniformf("plateShadow", look.plate_shadow);
}

void PlateLayer::set_view(Vec3 eye, int oversampling) {
    vtkUniforms* uniforms = actor_->GetShaderProperty()->GetFragmentCustomUniforms();
    uniforms->SetUniformf("plateAbove", static_cast<float>(eye.z));
    uniforms->SetUniformf("plateDetail", static_cast<float>(oversampling));
}

} // namespace touchmark::viewport
