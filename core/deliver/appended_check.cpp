// SPDX-License-Identifier: MIT
#include "core/deliver/appended_check.h"

#include "core/deliver/face_flux.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <span>
#include <unordered_map>
#include <unordered_set>

namespace touchmark::deliver {
namespace {

std::unexpected<Error> wrong(const std::string& what) {
    return fail("deliver.verify", "What was written is not what was meant: " + what + ".", "Nothing was saved.");
}

std::string of(int id) {
    return "#" + std::to_string(id);
}

/// Every instance that was to stay is there in the same words, and no other bears a number of the unmarked part.
Status rest_unchanged(const Exchange& copy, const Exchange& old, const Appended& meant) {
    std::vector<char> touched(static_cast<std::size_t>(old.highest_id()) + 1, 0);
    for (const int id : meant.rewritten)
        touched[static_cast<std::size_t>(id)] = 1;
    for (const int id : meant.dropped)
        touched[static_cast<std::size_t>(id)] = 2;
    for (const Exchange::Instance& instance : old.instances()) {
        const char what = touched[static_cast<std::size_t>(instance.id)];
        const Exchange::Instance* now = copy.find(instance.id);
        if ((now == nullptr) != (what == 2)) return wrong(of(instance.id) + " is there or gone against the plan");
        if (what == 0 && copy.text_of(*now) != old.text_of(instance)) return wrong(of(instance.id) + " has changed");
    }
    if (copy.instances().size() !=
        old.instances().size() - meant.dropped.size() + static_cast<std::size_t>(meant.added))
        return wrong("there are too many or too few instances");
    return {};
}

struct Bound {
    int loop = 0;
    bool along = true;

    friend auto operator<=>(const Bound&, const Bound&) = default;
};

struct FaceRecord {
    std::vector<Bound> bounds;
    int surface = 0;
    bool same_sense = true;

    FaceRecord(const Exchange& file, int id) {
        const Record record = file.record(id);
        if (record.type != "ADVANCED_FACE") return;
        for (const int bound : references_in(record.argument(1))) {
            const Record entry = file.record(bound);
            if (entry.type != "FACE_BOUND" && entry.type != "FACE_OUTER_BOUND") continue;
            bounds.push_back({reference(entry.argument(1)), entry.argument(2) == ".T."});
        }
        surface = reference(record.argument(2));
        same_sense = record.argument(3) == ".T.";
    }
};

/// One of the two texts, with what was decoded of it.
class Text {
public:
    explicit Text(const Exchange& file) : file_(file), geometry_(file) {}

    [[nodiscard]] const Exchange& file() const { return file_; }
    [[nodiscard]] const FileGeometry& geometry() const { return geometry_; }

    struct Oriented {
        int edge = 0;
        bool forward = true;
    };
    [[nodiscard]] const std::vector<Oriented>& edges_of(const Bound& bound) {
        const auto [known, fresh] = loops_.try_emplace(bound);
        std::vector<Oriented>& out = known->second;
        if (!fresh) return out;
        const Record round = file_.record(bound.loop);
        for (const int id : references_in(round.type == "EDGE_LOOP" ? round.argument(1) : std::string_view())) {
            const Record record = file_.record(id);
            if (record.type != "ORIENTED_EDGE") continue;
            out.push_back({reference(record.argument(3)), (record.argument(4) == ".T.") == bound.along});
        }
        if (!bound.along) std::ranges::reverse(out);
        return out;
    }
    /// Its vertices, forward; 0 where there is none.
    [[nodiscard]] std::pair<int, int> ends_of(int edge) {
        const auto [known, fresh] = ends_.try_emplace(edge);
        if (fresh) {
            const Record record = file_.record(edge);
            if (record.type == "EDGE_CURVE")
                known->second = {reference(record.argument(1)), reference(record.argument(2))};
        }
        return known->second;
    }
    /// Null for one that cannot be judged.
    const FileEdge* edge(int id) {
        const auto [known, fresh] = edges_.try_emplace(id);
        if (fresh)
            if (auto decoded = geometry_.edge(id)) known->second = std::make_unique<FileEdge>(*std::move(decoded));
        return known->second.get();
    }
    const FileSurface& surface(int id) {
        const auto [known, fresh] = surfaces_.try_emplace(id);
        if (fresh) known->second = geometry_.surface(id);
        return known->second;
    }
    /// Empty when an edge of it cannot be judged.
    Loop loop(const Bound& bound) {
        Loop out;
        for (const Oriented& item : edges_of(bound)) {
            const FileEdge* decoded = edge(item.edge);
            if (!decoded) return {};
            out.push_back({decoded, item.forward});
        }
        return out;
    }

private:
    const Exchange& file_;
    FileGeometry geometry_;
    struct Hash {
        std::size_t operator()(const Bound& bound) const {
            return static_cast<std::size_t>(bound.loop) * 2 + (bound.along ? 1 : 0);
        }
    };
    std::unordered_map<Bound, std::vector<Oriented>, Hash> loops_;
    std::unordered_map<int, std::unique_ptr<FileEdge>> edges_;
    std::unordered_map<int, FileSurface> surfaces_;
    std::unordered_map<int, std::pair<int, int>> ends_;
};

/// mm. Curves are written to 1e-10 mm; those that stand for a curve on a curved surface keep to 1e-6 mm.
constexpr double exact = 2e-8, fitted = 2e-6, far_off = 1e-5;

/// Of an edge, where it is looked at.
constexpr std::array places{0.0, 0.37, 0.71, 1.0};

/// What is no number is larger than all.
double larger(double a, double b) {
    return std::isnan(a) || a > b ? a : b;
}

bool by_loops(const FileSurface& surface) {
    using Kind = FileSurface::Kind;
    return surface.kind == Kind::plane || surface.kind == Kind::cylinder || surface.kind == Kind::cone;
}

class Check {
public:
    Check(const Exchange& copy, const Unmarked& unmarked) : old_(unmarked.file), now_(copy), unit_(unmarked.unit_mm) {}

    Result<std::optional<AppendedFigures>> run(const Changes& changes, const Appended& meant) {
        if (Status same = rest_unchanged(now_.file(), old_.file(), meant); !same) return std::unexpected(same.error());
        if (Status good = gather(changes); !good) return std::unexpected(good.error());
        for (const int face : fresh_)
            if (Status good = edges_fit(face); !good) return std::unexpected(good.error());
        for (const auto& [edge, known] : parameter_curves_)
            if (known != edge->parameter_curves.size()) beyond_ = true;
        about_ = middle();
        double flux = 0;
        for (const int face : fresh_) {
            const Result<double> part = flux_of(now_, face, true);
            if (!part) return std::unexpected(part.error());
            flux += *part;
        }
        for (const int face : taken_) {
            const Result<double> part = flux_of(old_, face, false);
            if (!part) return std::unexpected(part.error());
            flux -= *part;
        }
        if (beyond_) return std::optional<AppendedFigures>();
        figures_.volume_change_mm3 = flux * unit_ * unit_ * unit_;
        return figures_;
    }

private:
    /// The shells that changed or are new, their faces counted and their edges paired.
    Status gather(const Changes& changes) {
        for (const Changes::Shell& shell : changes.shells) {
            if (Status good = shell_closes(shell.id, shell.faces.size(), false); !good) return good;
            for (const int face : references_in(old_.file().record(shell.id).argument(1)))
                if (!unchanged(face)) taken_.push_back(face);
        }
        for (const Changes::Voids& voids : changes.voids)
            if (Status good = voids_close(voids.solid, voids.shells); !good) return good;
        if (Status good = bodies_close(changes.bodies); !good) return good;
        std::ranges::sort(taken_);
        return {};
    }

    /// The last of a solid's voids are those.
    Status voids_close(int solid, std::span<const std::vector<TopoDS_Face>> shells) {
        const Record record = now_.file().record(solid);
        const std::vector<int> all = references_in(record.argument(2));
        if (record.type != "BREP_WITH_VOIDS" || all.size() < shells.size()) return wrong(of(solid) + " lacks voids");
        for (std::size_t i = 0; i < shells.size(); ++i) {
            const Record oriented = now_.file().record(all[all.size() - shells.size() + i]);
            if (oriented.type != "ORIENTED_CLOSED_SHELL" || oriented.argument(3) != ".F.")
                return wrong("a void is not turned");
            if (Status good = shell_closes(reference(oriented.argument(2)), shells[i].size(), true); !good) return good;
        }
        return {};
    }

    /// The last solids of their representations are those.
    Status bodies_close(const std::vector<Changes::Body>& bodies) {
        std::map<int, std::size_t> left;
        for (const Changes::Body& body : bodies)
            ++left[body.representation];
        for (const Changes::Body& body : bodies) {
            const std::vector<int> items = references_in(now_.file().record(body.representation).argument(1));
            std::size_t& behind = left[body.representation];
            if (items.size() < behind) return wrong(of(body.representation) + " lacks a solid");
            const int solid = items[items.size() - behind--];
            const Record record = now_.file().record(solid);
            if (record.type != (body.shells.size() > 1 ? "BREP_WITH_VOIDS" : "MANIFOLD_SOLID_BREP"))
                return wrong(of(solid) + " is no such solid");
            if (Status good = shell_closes(reference(record.argument(1)), body.shells.front().size(), false); !good)
                return good;
            if (body.shells.size() == 1) continue;
            if (Status good = voids_close(solid, std::span(body.shells).subspan(1)); !good) return good;
        }
        return {};
    }

    /// Said in the same words, down to its loops.
    bool unchanged(int face) {
        const Exchange::Instance *then = old_.file().find(face), *now = now_.file().find(face);
        return then && now && old_.file().text_of(*then) == now_.file().text_of(*now);
    }

    Status shell_closes(int id, std::size_t faces, bool turned) {
        const std::vector<int> listed = references_in(now_.file().record(id).argument(1));
        if (listed.size() != faces) return wrong(of(id) + " has another number of faces");
        std::unordered_map<int, int> uses; // 1 for forward, 4 for reversed
        for (const int face : listed) {
            const FaceRecord record(now_.file(), face);
            if (record.bounds.empty()) return wrong(of(face) + " is no face");
            for (const Bound& bound : record.bounds)
                if (Status good = loop_closes(bound, uses); !good) return good;
            if (unchanged(face)) continue;
            fresh_.push_back(face);
            if (turned) turned_.insert(face);
            ++figures_.faces;
        }
        for (const auto& [edge, use] : uses)
            if (use != 5) return wrong(of(edge) + " is not used once in each direction");
        ++figures_.shells;
        return {};
    }

    Status loop_closes(const Bound& bound, std::unordered_map<int, int>& uses) {
        int first = 0, last = 0;
        for (const Text::Oriented& item : now_.edges_of(bound)) {
            uses[item.edge] += item.forward ? 1 : 4;
            auto [from, until] = now_.ends_of(item.edge);
            if (!item.forward) std::swap(from, until);
            if (from == 0 || (first != 0 && from != last))
                return wrong(of(bound.loop) + " does not go from vertex to vertex");
            if (first == 0) first = from;
            last = until;
        }
        const bool point = first == 0 && now_.file().record(bound.loop).type == "VERTEX_LOOP";
        if (first != last || (first == 0 && !point)) return wrong(of(bound.loop) + " does not close");
        return {};
    }

    /// Plainly wrong, or so that only a reader can say what it makes of it.
    Status near(double distance, double allowed_mm, const std::string& what) {
        const double mm = distance * unit_;
        if (!(mm <= far_off)) return wrong(what);
        if (mm > allowed_mm) beyond_ = true;
        return {};
    }

    Status edges_fit(int face) {
        const FaceRecord record(now_.file(), face);
        const FileSurface& surface = now_.surface(record.surface);
        for (const Bound& bound : record.bounds)
            for (const Text::Oriented& item : now_.edges_of(bound)) {
                if (old_.file().find(item.edge)) continue;
                const FileEdge* edge = now_.edge(item.edge);
                if (!edge) {
                    beyond_ = true;
                    continue;
                }
                const bool spline = edge->curve.kind == FileCurve::Kind::spline;
                if (Status good = near(edge->gap, exact, of(item.edge) + " does not end in its vertices"); !good)
                    return good;
                if (Status good = parameters_fit(item.edge, *edge, record.surface, surface); !good) return good;
                if (!by_loops(surface)) continue;
                double off = 0;
                for (const double t : places)
                    off = larger(off, surface.off(edge->at(t).at));
                const bool curved = spline && surface.kind != FileSurface::Kind::plane;
                if (Status good = near(off, curved ? fitted : exact, of(item.edge) + " does not lie on its surface");
                    !good)
                    return good;
            }
        return {};
    }

    /// The edge's curves in the surface's parameters are those of its curve in space.
    Status parameters_fit(int id, const FileEdge& edge, int surface_id, const FileSurface& surface) {
        using Kind = FileSurface::Kind;
        for (const int entry : edge.parameter_curves) {
            if (now_.geometry().surface_of(entry) != surface_id) continue;
            ++parameter_curves_[&edge];
            const auto curve = now_.geometry().in_parameters(entry);
            const bool can_be_told =
                surface.kind == Kind::cone || surface.kind == Kind::spline || surface.kind == Kind::extrusion;
            const auto starts_or_ends = [&](double parameter) {
                constexpr double hair = 1e-9;
                return curve->kind != FileCurve::Kind::spline ||
                       std::min(std::abs(parameter - curve->basis.low()), std::abs(parameter - curve->basis.high())) <
                           hair;
            };
            // A line's parameter is the length in mm.
            const double scale = edge.curve.kind == FileCurve::Kind::line ? unit_ : 1;
            const double from = edge.from * scale, until = edge.until * scale;
            if (!curve || !can_be_told || !starts_or_ends(from) || !starts_or_ends(until)) {
                beyond_ = true;
                continue;
            }
            double off = 0;
            for (const double t : places) {
                const Vec3 at = curve->at(from + (until - from) * t).at;
                off = larger(off, distance(surface.point(at.x, at.y), edge.at(t).at));
            }
            if (Status good = near(off, fitted, of(id) + " lies elsewhere in the parameters of its surface"); !good)
                return good;
        }
        return {};
    }

    /// Fluxes are taken about a point among the marks, so that they are small.
    Vec3 middle() {
        for (const int face : fresh_)
            if (!old_.file().find(face))
                for (const Bound& bound : FaceRecord(now_.file(), face).bounds)
                    for (const Text::Oriented& item : now_.edges_of(bound))
                        if (const FileEdge* edge = now_.edge(item.edge)) return edge->start;
        return {};
    }

    Result<double> flux_of(Text& text, int face, bool judge) {
        const FaceRecord record(text.file(), face);
        const FileSurface& surface = text.surface(record.surface);
        const double sense = turned_.contains(face) ? -1 : 1; // a void's shell is used turned over
        if (!by_loops(surface)) return patch_of(text, record, surface, sense);
        const std::vector<Bound> shared = shared_bounds(record, face);
        double flux = 0, size = 0;
        for (const Bound& bound : record.bounds) {
            if (std::ranges::binary_search(shared, bound)) continue;
            const Loop loop = text.loop(bound);
            if (loop.empty()) {
                beyond_ = true;
                return 0.0;
            }
            const LoopFigures figures = loop_figures(surface, loop, about_);
            flux += figures.flux, size += figures.size;
        }
        if (judge && shared.empty() && (size > 0) != record.same_sense) return wrong(of(face) + " is turned");
        return flux * sense;
    }

    Result<double> patch_of(Text& text, const FaceRecord& record, const FileSurface& surface, double sense) {
        const bool known = surface.kind == FileSurface::Kind::extrusion || surface.kind == FileSurface::Kind::spline;
        const Loop loop = known && record.bounds.size() == 1 ? text.loop(record.bounds.front()) : Loop{};
        const auto flux =
            loop.empty() ? std::nullopt : patch_flux(surface, record.same_sense, loop, about_, exact / unit_);
        if (!flux) beyond_ = true;
        return flux.value_or(0) * sense;
    }

    /// The bounds that a face has before and after, on the same surface: what they add is the same and need not be
    /// known.
    std::vector<Bound> shared_bounds(const FaceRecord& record, int face) {
        if (!old_.file().find(face) || !now_.file().find(face)) return {};
        FaceRecord then(old_.file(), face), now(now_.file(), face);
        if (then.surface != now.surface || then.same_sense != now.same_sense || record.bounds.empty()) return {};
        std::ranges::sort(then.bounds);
        std::ranges::sort(now.bounds);
        std::vector<Bound> out;
        std::ranges::set_intersection(then.bounds, now.bounds, std::back_inserter(out));
        return out;
    }

    Text old_, now_;
    double unit_;
    std::vector<int> fresh_,
        taken_; ///< faces that are new or changed; those of the unmarked part that are gone or changed
    std::unordered_set<int> turned_;
    std::unordered_map<const FileEdge*, std::size_t>
        parameter_curves_; ///< of each edge those on the surfaces of its faces
    Vec3 about_;
    bool beyond_ = false;
    AppendedFigures figures_;
};

} // namespace

Result<std::optional<AppendedFigures>> check_appended(const Exchange& copy, const Unmarked& unmarked,
                                                      const Changes& changes, const Appended& meant) {
    return Check(copy, unmarked).run(changes, meant);
}

} // namespace touchmark::deliver
