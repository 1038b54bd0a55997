// SPDX-License-Identifier: MIT
#include "core/imprint/product_edit.h"

#include "core/imprint/shell_edit.h"

#include <BRep_Builder.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>

namespace touchmark::imprint {
namespace {

using part::Instance;
using part::Model;
using part::Product;
using part::Styled;

int uses_of(const Model& model, int product) {
    const auto count = [&](const std::vector<Instance>& instances) {
        return std::count_if(instances.begin(), instances.end(),
                             [&](const Instance& i) { return i.product == product; });
    };
    auto uses = count(model.roots);
    for (const Product& other : model.products)
        uses += count(other.children);
    return static_cast<int>(uses);
}

std::vector<TopoDS_Shape> shells_of(const TopoDS_Shape& solid) {
    std::vector<TopoDS_Shape> shells;
    for (TopExp_Explorer shell(solid, TopAbs_SHELL); shell.More(); shell.Next())
        shells.push_back(shell.Current());
    return shells;
}

/// Old shapes that carry a style and the new ones that take it over.
class Heirs {
public:
    Heirs(const TopoDS_Shape& old_solid, const BodyEdit& edit) {
        add(old_solid, {edit.solid()});
        const std::vector<TopoDS_Shape> before = shells_of(old_solid), after = shells_of(edit.solid());
        for (std::size_t i = 0; i < before.size() && before.size() == after.size(); ++i)
            add(before[i], {after[i]});
        for (const Tracked& item : edit.tracked())
            if (!item.original.IsNull()) add(item.original, {item.now.begin(), item.now.end()});
    }
    [[nodiscard]] const std::vector<TopoDS_Shape>* of(const TopoDS_Shape& shape) const {
        const int* index = index_.Seek(shape);
        return index ? &heirs_[static_cast<std::size_t>(*index)] : nullptr;
    }

private:
    void add(const TopoDS_Shape& old, std::vector<TopoDS_Shape> heirs) {
        if (index_.IsBound(old)) return; // a face may be tracked for its style and for its mark
        index_.Bind(old, static_cast<int>(heirs_.size()));
        heirs_.push_back(std::move(heirs));
    }
    TopTools_DataMapOfShapeInteger index_;
    std::vector<std::vector<TopoDS_Shape>> heirs_;
};

std::vector<Styled> inherited(const std::vector<Styled>& styles, const Heirs& heirs, const TopoDS_Shape& shape) {
    TopTools_IndexedMapOfShape present;
    const bool any_edges = std::ranges::any_of(
        styles, [](const Styled& style) { return !style.shape.IsNull() && style.shape.ShapeType() == TopAbs_EDGE; });
    if (any_edges) TopExp::MapShapes(shape, present);
    std::vector<Styled> out;
    for (const Styled& style : styles) {
        const std::vector<TopoDS_Shape>* now = heirs.of(style.shape);
        if (!now) {
            // An edge that a cut took away takes its style with it. Locations may differ from how the style names it.
            const bool edge_gone =
                !style.shape.IsNull() && style.shape.ShapeType() == TopAbs_EDGE && !present.Contains(style.shape);
            if (!edge_gone) out.push_back(style);
            continue;
        }
        for (const TopoDS_Shape& heir : *now) {
            out.push_back(style);
            out.back().shape = heir;
        }
    }
    return out;
}

/// The product's shape and the bodies of an inlay beside it.
TopoDS_Shape with_fillers(const TopoDS_Shape& shape, std::span<const BodyEdit::Filler> fillers) {
    const BRep_Builder builder;
    TopoDS_Compound all;
    builder.MakeCompound(all);
    if (shape.ShapeType() == TopAbs_COMPOUND)
        for (TopoDS_Iterator item(shape); item.More(); item.Next())
            builder.Add(all, item.Value());
    else
        builder.Add(all, shape);
    for (const BodyEdit::Filler& filler : fillers)
        builder.Add(all, filler.solid);
    return all;
}

} // namespace

int own_product(Model& model, const std::vector<int>& path) {
    int parent = -1;
    for (const int step : path) {
        const auto instance = [&]() -> Instance& {
            auto& siblings = parent < 0 ? model.roots : model.products[static_cast<std::size_t>(parent)].children;
            return siblings[static_cast<std::size_t>(step)];
        };
        int product = instance().product;
        if (uses_of(model, product) > 1) {
            Product copy = model.products[static_cast<std::size_t>(product)];
            copy.name += copy.name.empty() ? "marked" : " marked";
            model.products.push_back(std::move(copy));
            product = static_cast<int>(model.products.size()) - 1;
            instance().product = product;
        }
        parent = product;
    }
    return parent;
}

void put_back(Model& model, const part::Part& part, const BodyEdit& edit, std::span<const Footprint> marks) {
    const part::Occurrence& occurrence = part::occurrence(part, edit.body());
    Product& product = model.products[static_cast<std::size_t>(own_product(model, occurrence.path))];
    product.shape = replaced(product.shape, occurrence.shape, edit.solid());
    product.styled = inherited(product.styled, Heirs(occurrence.shape, edit), product.shape);
    if (!edit.fillers().empty()) product.shape = with_fillers(product.shape, edit.fillers());
    for (const BodyEdit::Filler& filler : edit.fillers()) {
        const Footprint& mark = marks[static_cast<std::size_t>(filler.mark)];
        product.styled.push_back({filler.solid, mark.name, mark.colour, std::nullopt, {}});
        for (TopExp_Explorer face(filler.solid, TopAbs_FACE); face.More(); face.Next())
            product.styled.push_back({face.Current(), mark.name, mark.colour, std::nullopt, mark.name});
    }
    for (const Tracked& item : edit.tracked()) {
        if (item.mark < 0) continue;
        const Footprint& mark = marks[static_cast<std::size_t>(item.mark)];
        for (const TopoDS_Face& face : item.now)
            product.styled.push_back({face, mark.name, mark.colour, std::nullopt, mark.name});
    }
}

} // namespace touchmark::imprint
