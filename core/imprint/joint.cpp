// SPDX-License-Identifier: MIT
#include "core/imprint/joint.h"

#include "core/part/vectors.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::Segment;

constexpr double touching = 2e-6; // mm from a joint that count as on it
constexpr double end_room = 5e-3; // mm from a joint's end

/// An edge laid flat: points of it that go on without a jump of a turn.
std::vector<Vec2> followed(const TopoDS_Edge& edge, const Site& site) {
    const BRepAdaptor_Curve curve(edge);
    constexpr int parts = 16;
    std::vector<Vec2> points;
    for (int i = 0; i <= parts; ++i) {
        const double t = curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * i / parts;
        const std::vector<Vec2> at = flat_on_turns(site, part::vec(curve.Value(t)));
        points.push_back(points.empty() ? at[0] : *std::ranges::min_element(at, {}, [&](Vec2 p) {
            return distance(p, points.back());
        }));
    }
    return points;
}

bool is_straight(const std::vector<Vec2>& points) {
    const Vec2 whole = points.back() - points.front();
    const double size = length(whole);
    if (size < 2 * end_room) return false;
    for (std::size_t i = 1; i < points.size(); ++i)
        if (std::abs(cross(points[i] - points[0], whole)) > touching / 2 * size ||
            dot(points[i] - points[i - 1], whole) <= 0)
            return false;
    return true;
}

/// Moved by whole turns, on a closed face.
std::vector<std::vector<Vec2>> on_turns(const std::vector<Vec2>& points, const Site& site) {
    std::vector<std::vector<Vec2>> all{points};
    if (!site.unrolling || !site.unrolling->closed) return all;
    for (const int turns : {-1, 1}) {
        std::vector<Vec2>& moved = all.emplace_back();
        for (const Vec2 p : points)
            moved.push_back(site.unrolling->turned(p, turns));
    }
    return all;
}

/// Distances of a segment's poles from a line make a polynomial; its extremes part it into monotone stretches.
class Crossing {
public:
    Crossing(const Segment& segment, const Stretch& line)
        : segment_(segment), line_(line), along_(normalised2(line[1] - line[0])), size_(distance(line[0], line[1])) {}

    struct Found {
        std::vector<double> places; ///< between its ends
        int first = 0, last = 0;    ///< sides of the line on which it begins and ends
        bool starts_on = false;     ///< with its corner on the line
    };
    /// nullopt where it touches the line, runs along it, or passes near its end.
    [[nodiscard]] std::optional<Found> found() const {
        std::vector<double> at = extremes();
        at.insert(at.begin(), 0);
        at.push_back(1);
        const auto on = [&](double t) { return std::abs(off(t)) < touching && beside(t); };
        Found out;
        out.starts_on = on(0);
        const bool ends_on = on(1);
        for (std::size_t i = 0; i < at.size(); ++i) {
            const bool corner = i == 0 || i + 1 == at.size();
            if (!corner && on(at[i])) return std::nullopt;
        }
        if (out.starts_on && ends_on && at.size() == 2) return std::nullopt;
        const auto side = [&](double t) { return off(t) > 0 ? 1 : -1; };
        out.first = side(out.starts_on ? at[1] : 0);
        out.last = side(ends_on ? at[at.size() - 2] : 1);
        for (std::size_t i = 0; i + 1 < at.size(); ++i) {
            // From a corner on the line it goes away from it.
            if ((i == 0 && out.starts_on) || (i + 2 == at.size() && ends_on)) continue;
            double low = at[i], high = at[i + 1];
            const bool up = off(high) > 0;
            if ((off(low) > 0) == up) continue;
            for (int k = 0; k < 60; ++k) {
                const double middle = (low + high) / 2;
                ((off(middle) > 0) == up ? high : low) = middle;
            }
            const double t = (low + high) / 2, reach = dot(geometry::point_at(segment_, t) - line_[0], along_);
            if (reach < -end_room || reach > size_ + end_room) continue;
            if (reach < end_room || reach > size_ - end_room) return std::nullopt;
            out.places.push_back(t);
        }
        return out;
    }
    /// The point of the line nearest to a place.
    [[nodiscard]] Vec2 foot(Vec2 p) const { return line_[0] + along_ * dot(p - line_[0], along_); }

private:
    static Vec2 normalised2(Vec2 v) { return v * (1 / length(v)); }
    [[nodiscard]] double off(double t) const { return cross(along_, geometry::point_at(segment_, t) - line_[0]); }
    [[nodiscard]] bool beside(double t) const {
        const double reach = dot(geometry::point_at(segment_, t) - line_[0], along_);
        return reach > -end_room && reach < size_ + end_room;
    }
    [[nodiscard]] std::vector<double> extremes() const {
        std::array<double, 4> d{};
        for (std::size_t k = 0; k <= static_cast<std::size_t>(segment_.degree); ++k)
            d[k] = cross(along_, segment_.points[k] - line_[0]);
        std::vector<double> found;
        const auto add = [&](double t) {
            if (t > 0 && t < 1) found.push_back(t);
        };
        if (segment_.degree == 2) {
            const double bend = d[0] - 2 * d[1] + d[2];
            if (bend != 0) add((d[0] - d[1]) / bend);
        } else if (segment_.degree == 3) {
            const double a = d[3] - 3 * d[2] + 3 * d[1] - d[0], b = 2 * (d[2] - 2 * d[1] + d[0]), c = d[1] - d[0];
            const double root = b * b - 4 * a * c;
            if (root >= 0) {
                const double q = -(b + std::copysign(std::sqrt(root), b)) / 2;
                if (a != 0) add(q / a);
                if (q != 0) add(c / q);
            }
        }
        std::ranges::sort(found);
        return found;
    }

    const Segment& segment_;
    const Stretch& line_;
    Vec2 along_;
    double size_;
};

/// Corners on the line, where the contour goes from one side to the other, are put on it to the last digit.
bool split_at_line(const Stretch& line, geometry::Contour& contour) {
    const std::size_t count = contour.segments.size();
    std::vector<Crossing::Found> found;
    for (const Segment& segment : contour.segments) {
        const auto own = Crossing(segment, line).found();
        if (!own) return false;
        found.push_back(*own);
    }
    for (std::size_t i = 0; i < count; ++i) {
        if (!found[i].starts_on) continue;
        const std::size_t before = (i + count - 1) % count;
        if (found[before].last == found[i].first) return false;
        Segment &to = contour.segments[before], &from = contour.segments[i];
        from.points[0] = to.points[static_cast<std::size_t>(to.degree)] = Crossing(from, line).foot(from.start());
    }
    geometry::Contour out;
    for (std::size_t i = 0; i < count; ++i) {
        Segment rest = contour.segments[i];
        double done = 0;
        for (const double at : found[i].places) {
            const auto [left, right] = geometry::split(rest, (at - done) / (1 - done));
            out.segments.push_back(left);
            rest = right;
            done = at;
        }
        out.segments.push_back(rest);
    }
    contour = std::move(out);
    return true;
}

} // namespace

Vec2 flat(const Site& site, const Vec3& p) {
    if (!site.unrolling) return site.frame.to_plane(p);
    return site.unrolling->at(site.unrolling->parameters_near(p));
}

std::vector<Vec2> flat_on_turns(const Site& site, const Vec3& p) {
    const Vec2 at = flat(site, p);
    if (!site.unrolling || !site.unrolling->closed) return {at};
    return {at, site.unrolling->turned(at, 1), site.unrolling->turned(at, -1)};
}

Joints joints_of(std::span<const TopoDS_Face> faces, const Site& site) {
    TopTools_IndexedMapOfShape edges;
    std::vector<std::vector<std::size_t>> uses;
    for (std::size_t i = 0; i < faces.size(); ++i)
        for (TopExp_Explorer edge(faces[i], TopAbs_EDGE); edge.More(); edge.Next()) {
            if (BRep_Tool::Degenerated(TopoDS::Edge(edge.Current()))) continue;
            const auto index = static_cast<std::size_t>(edges.Add(edge.Current()));
            uses.resize(std::max(uses.size(), index));
            uses[index - 1].push_back(i);
        }
    Joints out;
    for (std::size_t e = 0; e < uses.size(); ++e) {
        if (uses[e].size() < 2) continue;
        const TopoDS_Edge edge = TopoDS::Edge(edges(static_cast<int>(e) + 1).Oriented(TopAbs_FORWARD));
        const auto all = on_turns(followed(edge, site), site);
        if (uses[e].size() == 2 && uses[e][0] != uses[e][1] && is_straight(all[0]) && BRep_Tool::SameRange(edge)) {
            Joint& joint = out.joints.emplace_back(Joint{edge, {uses[e][0], uses[e][1]}, {}});
            for (const auto& points : all)
                joint.lines.push_back({points.front(), points.back()});
            continue;
        }
        for (const auto& points : all)
            for (std::size_t i = 0; i + 1 < points.size(); ++i)
                out.closed.push_back({points[i], points[i + 1]});
    }
    return out;
}

bool split_at(std::span<const Joint> joints, geometry::Contour& contour) {
    for (const Joint& joint : joints)
        for (const Stretch& line : joint.lines)
            if (!split_at_line(line, contour)) return false;
    return true;
}

} // namespace touchmark::imprint
