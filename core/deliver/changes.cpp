// SPDX-License-Identifier: MIT
#include "core/deliver/changes.h"

#include <TopExp_Explorer.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>

namespace touchmark::deliver {
namespace {

using part::Instance;
using part::Product;
using Pairs = NCollection_DataMap<TopoDS_Shape, TopoDS_Shape, TopTools_ShapeMapHasher>;

bool same_instances(const std::vector<Instance>& a, const std::vector<Instance>& b) {
    return std::ranges::equal(a, b, [](const Instance& x, const Instance& y) {
        return x.product == y.product && x.location == y.location && x.name == y.name && x.colour == y.colour;
    });
}

/// As they lie in what holds `shape`.
std::vector<TopoDS_Shape> children(const TopoDS_Shape& shape) {
    std::vector<TopoDS_Shape> out;
    for (TopoDS_Iterator item(shape); item.More(); item.Next())
        out.push_back(item.Value());
    return out;
}

std::vector<TopoDS_Face> faces_in(const TopoDS_Shape& shell) {
    std::vector<TopoDS_Face> out;
    for (TopExp_Explorer face(shell, TopAbs_FACE); face.More(); face.Next())
        out.push_back(TopoDS::Face(face.Current()));
    return out;
}

Changes::Styles styles_of(const Product& product) {
    Changes::Styles out;
    for (const part::Styled& styled : product.styled) {
        if (styled.shape.IsNull()) continue;
        if (!out.IsBound(styled.shape)) out.Bind(styled.shape, {});
        Changes::Style& style = out.ChangeFind(styled.shape);
        const std::string& name = styled.name.empty() ? styled.mark : styled.name;
        if (!name.empty()) style.name = name;
        if (styled.surface) style.surface = styled.surface;
        if (styled.curve) style.curve = styled.curve;
    }
    return out;
}

/// What one product has become.
class Comparison {
public:
    Comparison(const Unmarked& unmarked, Changes& out, const Product& before, const Product& after)
        : unmarked_(unmarked), out_(out), before_(before), after_(after), styles_(styles_of(after)) {
        for (const part::Styled& styled : after.styled)
            if (!styled.mark.empty()) marks_.Add(styled.shape);
    }

    Status run() {
        if (before_.shape.IsEqual(after_.shape)) return same_styles();
        if (!walk(before_.shape, after_.shape)) return not_appendable(why_);
        return same_styles();
    }

private:
    bool refuse(std::string why) {
        why_ = std::move(why);
        return false;
    }

    bool walk(const TopoDS_Shape& before, const TopoDS_Shape& after) {
        if (before.IsEqual(after)) return true;
        if (before.IsSame(after)) return refuse("a body is turned inside out");
        if (after.Location().Transformation().IsNegative()) return refuse("a body lies mirrored");
        const std::vector<TopoDS_Shape> now = children(after);
        if (before.ShapeType() == TopAbs_SOLID && after.ShapeType() == TopAbs_COMPOUND)
            return !now.empty() && walk(before, now.front()) && add_bodies(before, now, 1);
        if (before.ShapeType() != after.ShapeType()) return refuse("a body is of another kind");
        pairs_.Bind(after, before);
        switch (before.ShapeType()) {
        case TopAbs_COMPOUND:
            return walk_all(before, now) && add_bodies(before, now, children(before).size());
        case TopAbs_SOLID:
            return walk_all(before, now) && add_voids(before, now);
        case TopAbs_SHELL:
            return compare(faces_in(before), faces_in(after));
        default:
            return refuse("something other than a solid has changed");
        }
    }

    bool walk_all(const TopoDS_Shape& before, const std::vector<TopoDS_Shape>& now) {
        const std::vector<TopoDS_Shape> then = children(before);
        if (now.size() < then.size()) return refuse("a body or a shell is gone");
        for (std::size_t i = 0; i < then.size(); ++i)
            if (!walk(then[i], now[i])) return false;
        return true;
    }

    /// 0 when the text does not hold exactly these faces as one shell.
    int shell_of(const std::vector<TopoDS_Face>& faces) {
        int shell = 0;
        for (const TopoDS_Face& face : faces) {
            const auto found = unmarked_.shell_of_face.find(unmarked_.id_of(face));
            if (found == unmarked_.shell_of_face.end() || (shell != 0 && found->second != shell)) return 0;
            shell = found->second;
        }
        const Record record = unmarked_.file.record(shell);
        return references_in(record.argument(1)).size() == faces.size() ? shell : 0;
    }

    int solid_of(const TopoDS_Shape& body) {
        for (TopExp_Explorer face(body, TopAbs_FACE); face.More(); face.Next()) {
            const auto shell = unmarked_.shell_of_face.find(unmarked_.id_of(face.Current()));
            if (shell == unmarked_.shell_of_face.end()) continue;
            const auto solid = unmarked_.solid_of_shell.find(shell->second);
            if (solid != unmarked_.solid_of_shell.end()) return solid->second;
        }
        return 0;
    }

    bool add_voids(const TopoDS_Shape& before, const std::vector<TopoDS_Shape>& now) {
        const std::size_t count = children(before).size();
        if (now.size() == count) return true;
        Changes::Voids voids{solid_of(before), {}};
        if (voids.solid == 0) return refuse("the text lacks the solid around a void");
        for (std::size_t i = count; i < now.size(); ++i) {
            if (now[i].ShapeType() != TopAbs_SHELL) return refuse("a solid holds more than shells");
            voids.shells.push_back(faces_in(now[i]));
        }
        out_.voids.push_back(std::move(voids));
        return true;
    }

    bool add_bodies(const TopoDS_Shape& before, const std::vector<TopoDS_Shape>& now, std::size_t first) {
        for (std::size_t i = first; i < now.size(); ++i) {
            if (now[i].ShapeType() != TopAbs_SOLID) return refuse("something other than a solid was added");
            const auto representation = unmarked_.representation_of_solid.find(solid_of(before));
            if (representation == unmarked_.representation_of_solid.end())
                return refuse("the text lacks the representation of a solid");
            Changes::Body body{representation->second, {}, {}, {}};
            for (const TopoDS_Shape& shell : children(now[i]))
                body.shells.push_back(faces_in(shell));
            if (body.shells.empty()) return refuse("a solid was added that is none");
            if (const Changes::Style* style = styles_.Seek(now[i])) {
                body.name = style->name, body.colour = style->surface;
            }
            out_.bodies.push_back(std::move(body));
        }
        return true;
    }

    bool compare(const std::vector<TopoDS_Face>& then, const std::vector<TopoDS_Face>& now) {
        const int id = shell_of(then);
        if (id == 0) return refuse("the text holds a shell otherwise");
        TopTools_MapOfShape before, after;
        for (const TopoDS_Face& face : then)
            before.Add(face);
        std::vector<TopoDS_Face> fresh, gone;
        for (const TopoDS_Face& face : now) {
            after.Add(face);
            if (!before.Contains(face)) fresh.push_back(face);
        }
        for (const TopoDS_Face& face : then)
            if (!after.Contains(face)) gone.push_back(face);
        find_heirs(gone, fresh);
        out_.shells.push_back({id, now});
        return true;
    }

    /// The piece of a face that has most of its edges, on the same surface where there is one.
    void find_heirs(const std::vector<TopoDS_Face>& gone, const std::vector<TopoDS_Face>& fresh) {
        for (const TopoDS_Face& old : gone) {
            TopTools_MapOfShape edges;
            for (TopExp_Explorer edge(old, TopAbs_EDGE); edge.More(); edge.Next())
                edges.Add(edge.Current());
            const PlacedSurface surface = placed_surface(old);
            const TopoDS_Face* best = nullptr;
            int most = 0;
            for (const TopoDS_Face& face : fresh) {
                if (marks_.Contains(face) || out_.heirs.IsBound(face)) continue;
                int shared = PlacedHasher::IsEqual(placed_surface(face), surface) ? 1'000'000 : 0;
                for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next())
                    shared += edges.Contains(edge.Current());
                if (shared > most) most = shared, best = &face;
            }
            if (best) {
                out_.heirs.Bind(*best, unmarked_.id_of(old));
                pairs_.Bind(*best, old);
            } else {
                out_.gone.push_back(unmarked_.id_of(old));
            }
        }
    }

    /// Every style is where it was, or on a face that is new.
    Status same_styles() {
        const Changes::Styles before = styles_of(before_);
        int kept = 0;
        for (Changes::Styles::Iterator item(styles_); item.More(); item.Next()) {
            const TopoDS_Shape& shape = item.Key();
            const TopoDS_Shape* pair = pairs_.Seek(shape);
            if (const Changes::Style* was = before.Seek(pair ? *pair : shape)) {
                if (!(*was == item.Value())) return not_appendable("a name or colour has changed");
                ++kept;
                continue;
            }
            if (shape.ShapeType() == TopAbs_SOLID && !pair) continue; // a body that was added, or none of the product's
            const bool fresh = shape.ShapeType() == TopAbs_FACE && !pair && unmarked_.id_of(shape) == 0;
            if (!fresh) return not_appendable("a name or colour was added to what was there");
            out_.styles.Bind(shape, item.Value());
        }
        if (kept != before.Extent()) return not_appendable("what had a name or colour is gone");
        return {};
    }

    const Unmarked& unmarked_;
    Changes& out_;
    const Product &before_, &after_;
    Changes::Styles styles_;
    TopTools_MapOfShape marks_;
    Pairs pairs_; ///< what has taken whose place
    std::string why_;
};

} // namespace

Result<Changes> changes_of(const Unmarked& unmarked, const part::Model& marked) {
    const part::Model& before = part::model(*unmarked.part);
    if (before.products.size() != marked.products.size() || !same_instances(before.roots, marked.roots))
        return not_appendable("an instance became a product of its own");
    if (before.name != marked.name || before.unit != marked.unit) return not_appendable("it is another part");
    Changes out;
    for (std::size_t i = 0; i < marked.products.size(); ++i) {
        const Product &then = before.products[i], &now = marked.products[i];
        if (then.name != now.name || then.colour != now.colour || !same_instances(then.children, now.children) ||
            then.shape.IsNull() != now.shape.IsNull())
            return not_appendable("its products have changed");
        if (now.shape.IsNull()) continue;
        if (const Status same = Comparison(unmarked, out, then, now).run(); !same) return std::unexpected(same.error());
    }
    return out;
}

} // namespace touchmark::deliver
