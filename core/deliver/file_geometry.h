// SPDX-License-Identifier: MIT
#pragma once

// Geometry as an exchange file says it, read without OpenCASCADE: the second opinion on what was written.

#include "core/base/vector.h"
#include "core/deliver/exchange.h"

#include <array>
#include <optional>
#include <unordered_map>
#include <vector>

namespace touchmark::deliver {

struct Jet {
    Vec3 at, first;
};

/// A B-spline of the file, in one direction.
struct SplineBasis {
    int degree = 0;
    std::vector<double> knots; ///< each as often as it counts

    [[nodiscard]] double low() const { return knots[static_cast<std::size_t>(degree)]; }
    [[nodiscard]] double high() const { return knots[knots.size() - 1 - static_cast<std::size_t>(degree)]; }
    /// The values at `t` of the degree + 1 functions that are not nought there, their derivatives, and the first's
    /// index.
    static constexpr int highest_degree = 25;
    using Values = std::array<double, highest_degree + 1>;
    std::size_t evaluate(double t, Values& values, Values& derivatives) const;
};

struct FileCurve {
    enum class Kind { line, circle, ellipse, spline } kind = Kind::line;
    Frame frame; ///< line: origin and x
    double radius = 0, minor = 0;
    SplineBasis basis;
    std::vector<Vec3> poles;
    std::vector<double> weights; ///< empty: all 1

    [[nodiscard]] Jet at(double parameter) const;
};

struct FileSurface {
    enum class Kind { plane, cylinder, cone, extrusion, spline, other } kind = Kind::other;
    Frame frame;                  ///< plane, cylinder, cone; extrusion: z its direction
    double radius = 0, slope = 0; ///< the cone's radius grows by `slope` along its axis
    FileCurve curve;              ///< extrusion
    SplineBasis u, v;
    std::vector<Vec3> poles; ///< u by u
    std::vector<double> weights;

    /// Of a spline or an extrusion: the point and both derivatives.
    void evaluate(double s, double t, Vec3& at, Vec3& along_s, Vec3& along_t) const;
    /// Of a spline, an extrusion or a cone, by ISO 10303-42.
    [[nodiscard]] Vec3 point(double s, double t) const;
    /// How far a point is off a plane, cylinder or cone.
    [[nodiscard]] double off(const Vec3& point) const;
};

/// An EDGE_CURVE between its vertices; its parameter runs from 0 to 1.
struct FileEdge {
    int first = 0, last = 0; ///< VERTEX_POINTs
    Vec3 start, end;
    FileCurve curve;
    double from = 0, until = 1; ///< of the curve
    std::vector<double> breaks; ///< from 0 to 1; between them the curve is smooth and short enough for one quadrature
    double gap = 0;             ///< largest distance between a vertex and the curve's point there
    std::vector<int> parameter_curves; ///< the PCURVEs that it has beside its curve in space

    [[nodiscard]] Jet at(double t) const;
};

/// Decodes on demand; nullopt for what it does not know.
class FileGeometry {
public:
    explicit FileGeometry(const Exchange& file) : file_(file) {}

    [[nodiscard]] std::optional<FileEdge> edge(int edge_curve) const;
    [[nodiscard]] FileSurface surface(int id) const;
    /// Of a PCURVE; 0 for an instance of another type.
    [[nodiscard]] int surface_of(int parameter_curve) const;
    /// Its x and y are the surface's parameters.
    [[nodiscard]] std::optional<FileCurve> in_parameters(int parameter_curve) const;
    [[nodiscard]] Vec3 vertex(int vertex_point) const;

private:
    /// In space, or in the parameters of a surface.
    enum class Room : std::size_t { plane = 2, space = 3 };
    /// NaN for an instance of another type, or in another room.
    [[nodiscard]] Vec3 triple(int id, std::string_view type, Room room = Room::space) const;
    [[nodiscard]] Vec3 along_vector(int id, Room room = Room::space) const;
    [[nodiscard]] Frame frame(int placement) const;
    [[nodiscard]] std::optional<FileCurve> curve(int id, Room room = Room::space) const;
    [[nodiscard]] std::vector<Vec3> points(std::string_view list, Room room = Room::space) const;

    const Exchange& file_;
};

} // namespace touchmark::deliver
