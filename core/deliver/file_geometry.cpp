// SPDX-License-Identifier: MIT
#include "core/deliver/file_geometry.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace touchmark::deliver {
namespace {

constexpr double turn = 2 * std::numbers::pi;

std::vector<double> numbers(std::string_view list) {
    std::vector<double> out;
    for (const std::string_view element : elements_of(list))
        out.push_back(number_in(element));
    return out;
}

std::vector<double> repeated(std::string_view folds, std::string_view values) {
    const std::vector<double> counts = numbers(folds), knots = numbers(values);
    std::vector<double> out;
    for (std::size_t i = 0; i < knots.size() && i < counts.size(); ++i)
        out.insert(out.end(), static_cast<std::size_t>(std::clamp(counts[i], 0.0, 100.0)), knots[i]);
    return out;
}

bool usable(const SplineBasis& basis, std::size_t poles) {
    return basis.degree >= 1 && basis.degree <= SplineBasis::highest_degree &&
           poles > static_cast<std::size_t>(basis.degree) &&
           basis.knots.size() == poles + static_cast<std::size_t>(basis.degree) + 1 && basis.low() < basis.high();
}

/// The words by which a spline says of itself what its poles and knots say anyway. Readers may go by them.
bool plain(std::string_view form, std::string_view intersects, std::string_view knots) {
    return form == ".UNSPECIFIED." && intersects == ".F." && (knots.empty() || knots == ".UNSPECIFIED.");
}

bool says(std::string_view word, bool truth) {
    return word == (truth ? ".T." : ".F.");
}

/// Of the point and derivative with weights from those of numerator and denominator.
Jet divided(const Vec3& at, const Vec3& first, double weight, double weight_first) {
    const Vec3 point = at * (1 / weight);
    return {point, (first - point * weight_first) * (1 / weight)};
}

/// What a complex instance says in its part of that type.
Record part_of(const Record& complex, std::string_view type) {
    for (const std::string_view part : complex.arguments)
        if (Record record = record_of_body(part); record.type == type) return record;
    return {};
}

/// A curve in space together with PCURVEs.
bool is_with_parameters(const Record& curve) {
    return curve.type == "SURFACE_CURVE" || curve.type == "SEAM_CURVE";
}

/// Where the curve comes nearest to a point.
double parameter_near(const FileCurve& curve, const Vec3& point) {
    const double low = curve.basis.low(), high = curve.basis.high();
    const int samples = 16 * static_cast<int>(curve.poles.size());
    double best = low, least = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= samples; ++i) {
        const double t = low + (high - low) * i / samples;
        if (const double off = distance(curve.at(t).at, point); off < least) least = off, best = t;
    }
    for (int i = 0; i < 20; ++i) {
        const Jet jet = curve.at(best);
        const double speed = dot(jet.first, jet.first);
        if (speed <= 0) break;
        best = std::clamp(best + dot(point - jet.at, jet.first) / speed, low, high);
    }
    return best;
}

double angle_of(const FileCurve& curve, const Vec3& point) {
    const Vec3 p = point - curve.frame.origin;
    const double minor = curve.kind == FileCurve::Kind::ellipse ? curve.minor : curve.radius;
    return std::atan2(dot(p, curve.frame.y) / minor, dot(p, curve.frame.x) / curve.radius);
}

void set_range(FileEdge& edge) {
    const FileCurve& curve = edge.curve;
    edge.breaks = {0, 1};
    switch (curve.kind) {
    case FileCurve::Kind::line:
        edge.from = dot(edge.start - curve.frame.origin, curve.frame.x);
        edge.until = dot(edge.end - curve.frame.origin, curve.frame.x);
        return;
    case FileCurve::Kind::circle:
    case FileCurve::Kind::ellipse: {
        edge.from = angle_of(curve, edge.start), edge.until = angle_of(curve, edge.end);
        if (edge.first == edge.last || edge.until <= edge.from + 1e-12) edge.until += turn;
        const int pieces = std::max(1, static_cast<int>(std::ceil((edge.until - edge.from) / (turn / 8))));
        edge.breaks.clear();
        for (int i = 0; i <= pieces; ++i)
            edge.breaks.push_back(static_cast<double>(i) / pieces);
        return;
    }
    case FileCurve::Kind::spline:
        edge.from = curve.basis.low(), edge.until = curve.basis.high();
        const double near = 1e-6 * (1 + distance(edge.start, edge.end));
        if (distance(curve.at(edge.from).at, edge.start) > near) edge.from = parameter_near(curve, edge.start);
        if (distance(curve.at(edge.until).at, edge.end) > near) edge.until = parameter_near(curve, edge.end);
        edge.breaks = {0};
        for (const double knot : curve.basis.knots)
            if (const double t = (knot - edge.from) / (edge.until - edge.from);
                t > edge.breaks.back() + 1e-9 && t < 1 - 1e-9)
                edge.breaks.push_back(t);
        edge.breaks.push_back(1);
    }
}

} // namespace

std::size_t SplineBasis::evaluate(double t, Values& values, Values& derivatives) const {
    const auto p = static_cast<std::size_t>(degree);
    t = std::clamp(t, low(), high());
    std::size_t span = p;
    while (span + p + 2 < knots.size() && knots[span + 1] <= t)
        ++span;
    // The recursion of Cox and de Boor, and the derivative from the functions one degree lower.
    values[0] = 1;
    Values lower = values;
    for (std::size_t k = 1; k <= p; ++k) {
        std::copy_n(values.begin(), k, lower.begin());
        std::fill_n(values.begin(), k + 1, 0);
        for (std::size_t r = 0; r < k; ++r) {
            const double right = knots[span + r + 1], left = knots[span + 1 + r - k], width = right - left;
            if (width <= 0) continue;
            values[r] += lower[r] * (right - t) / width;
            values[r + 1] += lower[r] * (t - left) / width;
        }
    }
    std::fill_n(derivatives.begin(), p + 1, 0);
    for (std::size_t r = 0; r < p; ++r) {
        const double width = knots[span + r + 1] - knots[span + 1 + r - p];
        if (width <= 0) continue;
        derivatives[r] -= lower[r] * degree / width;
        derivatives[r + 1] += lower[r] * degree / width;
    }
    return span - p;
}

Jet FileCurve::at(double t) const {
    switch (kind) {
    case Kind::line:
        return {frame.origin + frame.x * t, frame.x};
    case Kind::circle:
    case Kind::ellipse: {
        const double a = radius, b = kind == Kind::ellipse ? minor : radius, c = std::cos(t), s = std::sin(t);
        return {frame.origin + frame.x * (a * c) + frame.y * (b * s), frame.y * (b * c) - frame.x * (a * s)};
    }
    case Kind::spline:
        break;
    }
    SplineBasis::Values values, derivatives;
    const std::size_t first = basis.evaluate(t, values, derivatives);
    Jet jet;
    double weight = 0, weight_first = 0;
    for (std::size_t i = 0; i <= static_cast<std::size_t>(basis.degree); ++i) {
        const double w = weights.empty() ? 1 : weights[first + i];
        jet.at = jet.at + poles[first + i] * (w * values[i]);
        jet.first = jet.first + poles[first + i] * (w * derivatives[i]);
        weight += w * values[i], weight_first += w * derivatives[i];
    }
    return weights.empty() ? jet : divided(jet.at, jet.first, weight, weight_first);
}

void FileSurface::evaluate(double s, double t, Vec3& at, Vec3& along_s, Vec3& along_t) const {
    if (kind == Kind::extrusion) {
        const Jet jet = curve.at(s);
        at = jet.at + frame.z * t, along_s = jet.first, along_t = frame.z;
        return;
    }
    SplineBasis::Values u_values, u_derivatives, v_values, v_derivatives;
    const std::size_t u_first = u.evaluate(s, u_values, u_derivatives),
                      v_first = v.evaluate(t, v_values, v_derivatives);
    const std::size_t row = v.knots.size() - static_cast<std::size_t>(v.degree) - 1;
    Vec3 sum, sum_s, sum_t;
    double weight = 0, weight_s = 0, weight_t = 0;
    for (std::size_t i = 0; i <= static_cast<std::size_t>(u.degree); ++i)
        for (std::size_t j = 0; j <= static_cast<std::size_t>(v.degree); ++j) {
            const std::size_t k = (u_first + i) * row + v_first + j;
            const double w = weights.empty() ? 1 : weights[k];
            sum = sum + poles[k] * (w * u_values[i] * v_values[j]);
            sum_s = sum_s + poles[k] * (w * u_derivatives[i] * v_values[j]);
            sum_t = sum_t + poles[k] * (w * u_values[i] * v_derivatives[j]);
            weight += w * u_values[i] * v_values[j];
            weight_s += w * u_derivatives[i] * v_values[j], weight_t += w * u_values[i] * v_derivatives[j];
        }
    const Jet first = divided(sum, sum_s, weight, weight_s);
    at = first.at, along_s = first.first, along_t = divided(sum, sum_t, weight, weight_t).first;
}

double FileSurface::off(const Vec3& point) const {
    const Vec3 p = point - frame.origin;
    if (kind == Kind::plane) return std::abs(dot(p, frame.z));
    const double along = dot(p, frame.z), away = length(p - frame.z * along);
    return std::abs(away - std::abs(radius + slope * along)) / std::sqrt(1 + slope * slope);
}

Vec3 FileSurface::point(double s, double t) const {
    if (kind == Kind::cone)
        return frame.origin + (frame.x * std::cos(s) + frame.y * std::sin(s)) * (radius + slope * t) + frame.z * t;
    Vec3 at, along_s, along_t;
    evaluate(s, t, at, along_s, along_t);
    return at;
}

Jet FileEdge::at(double t) const {
    const Jet jet = curve.at(from + (until - from) * t);
    return {jet.at, jet.first * (until - from)};
}

Vec3 FileGeometry::triple(int id, std::string_view type, Room room) const {
    const Record record = file_.record(id);
    const std::vector<double> values = numbers(record.argument(1));
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    if (record.type != type || values.size() != static_cast<std::size_t>(room)) return {none, none, none};
    return {values[0], values[1], room == Room::space ? values[2] : 0};
}

Vec3 FileGeometry::vertex(int vertex_point) const {
    const Record record = file_.record(vertex_point);
    return triple(record.type == "VERTEX_POINT" ? reference(record.argument(1)) : 0, "CARTESIAN_POINT");
}

/// By ISO 10303-42: Z, and X made square to it; what is left out is Z and X of the coordinates.
Frame FileGeometry::frame(int placement) const {
    const Record record = file_.record(placement);
    Frame out;
    out.origin = triple(record.type == "AXIS2_PLACEMENT_3D" ? reference(record.argument(1)) : 0, "CARTESIAN_POINT");
    if (const int z = reference(record.argument(2))) out.z = normalised(triple(z, "DIRECTION"));
    Vec3 x = std::abs(out.z.x) < 1 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    if (const int given = reference(record.argument(3))) x = triple(given, "DIRECTION");
    out.x = normalised(x - out.z * dot(x, out.z));
    out.y = cross(out.z, out.x);
    return out;
}

/// The direction of a VECTOR; how long it says it is scales a parameter and nothing else.
Vec3 FileGeometry::along_vector(int id, Room room) const {
    const Record record = file_.record(id);
    return normalised(triple(record.type == "VECTOR" ? reference(record.argument(1)) : 0, "DIRECTION", room));
}

std::vector<Vec3> FileGeometry::points(std::string_view list, Room room) const {
    std::vector<Vec3> out;
    for (const int id : references_in(list))
        out.push_back(triple(id, "CARTESIAN_POINT", room));
    return out;
}

std::optional<FileCurve> FileGeometry::curve(int id, Room room) const {
    Record record = file_.record(id);
    if (is_with_parameters(record)) record = file_.record(reference(record.argument(1)));
    FileCurve out;
    if (record.type == "LINE") {
        out.frame.origin = triple(reference(record.argument(1)), "CARTESIAN_POINT", room);
        out.frame.x = along_vector(reference(record.argument(2)), room);
        return out;
    }
    if (record.type == "CIRCLE" || record.type == "ELLIPSE") {
        out.kind = record.type == "CIRCLE" ? FileCurve::Kind::circle : FileCurve::Kind::ellipse;
        out.frame = frame(reference(record.argument(1)));
        out.radius = number_in(record.argument(2)), out.minor = number_in(record.argument(3));
        return out;
    }
    std::size_t offset = 1; // behind the name
    Record shape = record, knots = record;
    std::size_t knots_at = 6;
    if (record.type.empty()) {
        shape = part_of(record, "B_SPLINE_CURVE"), knots = part_of(record, "B_SPLINE_CURVE_WITH_KNOTS");
        const Record rational = part_of(record, "RATIONAL_B_SPLINE_CURVE");
        if (shape.count == 0 || knots.count == 0) return std::nullopt;
        out.weights = numbers(rational.argument(0));
        offset = 0, knots_at = 0;
    } else if (record.type != "B_SPLINE_CURVE_WITH_KNOTS") {
        return std::nullopt;
    }
    out.kind = FileCurve::Kind::spline;
    out.basis.degree = static_cast<int>(number_in(shape.argument(offset)));
    out.poles = points(shape.argument(offset + 1), room);
    out.basis.knots = repeated(knots.argument(knots_at), knots.argument(knots_at + 1));
    if (!usable(out.basis, out.poles.size())) return std::nullopt;
    const bool closed = distance(out.poles.front(), out.poles.back()) < 1e-9;
    if (!plain(shape.argument(offset + 2), shape.argument(offset + 4), knots.argument(knots_at + 2)) ||
        !says(shape.argument(offset + 3), closed))
        return std::nullopt;
    if (!out.weights.empty() && out.weights.size() != out.poles.size()) return std::nullopt;
    return out;
}

std::optional<FileEdge> FileGeometry::edge(int edge_curve) const {
    const Record record = file_.record(edge_curve);
    if (record.type != "EDGE_CURVE" || record.argument(4) != ".T.") return std::nullopt;
    const int geometry = reference(record.argument(3));
    std::optional<FileCurve> along = curve(geometry);
    if (!along) return std::nullopt;
    FileEdge out;
    if (const Record whole = file_.record(geometry); is_with_parameters(whole))
        out.parameter_curves = references_in(whole.argument(2));
    out.first = reference(record.argument(1)), out.last = reference(record.argument(2));
    out.start = vertex(out.first), out.end = vertex(out.last);
    out.curve = std::move(*along);
    set_range(out);
    out.gap = std::max(distance(out.at(0).at, out.start), distance(out.at(1).at, out.end));
    return out;
}

int FileGeometry::surface_of(int parameter_curve) const {
    const Record record = file_.record(parameter_curve);
    return record.type == "PCURVE" ? reference(record.argument(1)) : 0;
}

std::optional<FileCurve> FileGeometry::in_parameters(int parameter_curve) const {
    const Record described = file_.record(reference(file_.record(parameter_curve).argument(2)));
    if (described.type != "DEFINITIONAL_REPRESENTATION") return std::nullopt;
    const std::vector<int> items = references_in(described.argument(1));
    if (items.size() != 1) return std::nullopt;
    std::optional<FileCurve> out = curve(items.front(), Room::plane);
    if (out && out->kind != FileCurve::Kind::line && out->kind != FileCurve::Kind::spline) return std::nullopt;
    return out;
}

FileSurface FileGeometry::surface(int id) const {
    const Record record = file_.record(id);
    FileSurface out;
    if (record.type == "PLANE" || record.type == "CYLINDRICAL_SURFACE" || record.type == "CONICAL_SURFACE") {
        out.kind = record.type == "PLANE"                 ? FileSurface::Kind::plane
                   : record.type == "CYLINDRICAL_SURFACE" ? FileSurface::Kind::cylinder
                                                          : FileSurface::Kind::cone;
        out.frame = frame(reference(record.argument(1)));
        if (out.kind != FileSurface::Kind::plane) out.radius = number_in(record.argument(2));
        if (out.kind == FileSurface::Kind::cone) out.slope = std::tan(number_in(record.argument(3)));
    } else if (record.type == "SURFACE_OF_LINEAR_EXTRUSION") {
        const auto basis = curve(reference(record.argument(1)));
        if (!basis || basis->kind != FileCurve::Kind::spline) return out;
        out.kind = FileSurface::Kind::extrusion;
        out.curve = *basis;
        out.u = basis->basis;
        out.frame.z = along_vector(reference(record.argument(2)));
    } else if (record.type == "B_SPLINE_SURFACE_WITH_KNOTS") {
        out.u.degree = static_cast<int>(number_in(record.argument(1)));
        out.v.degree = static_cast<int>(number_in(record.argument(2)));
        out.u.knots = repeated(record.argument(8), record.argument(10));
        out.v.knots = repeated(record.argument(9), record.argument(11));
        const auto rows = elements_of(record.argument(3));
        for (const std::string_view row : rows)
            std::ranges::copy(points(row), std::back_inserter(out.poles));
        const std::size_t columns = rows.empty() ? 0 : out.poles.size() / rows.size();
        const bool open = record.argument(5) == ".F." && record.argument(6) == ".F.";
        if (usable(out.u, rows.size()) && usable(out.v, columns) && open &&
            plain(record.argument(4), record.argument(7), record.argument(12)))
            out.kind = FileSurface::Kind::spline;
    }
    return out;
}

} // namespace touchmark::deliver
