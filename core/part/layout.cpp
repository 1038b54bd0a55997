// SPDX-License-Identifier: MIT
#include "core/part/part_data.h"

#include <TopExp_Explorer.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>

#include <limits>

namespace touchmark::part {
namespace {

ProductBody body_of(const TopoDS_Shape& shape, bool solid) {
    ProductBody body{shape, solid, {}};
    TopTools_MapOfShape seen;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        if (seen.Add(face.Current())) body.faces.push_back(TopoDS::Face(face.Current()));
    return body;
}

std::vector<ProductBody> bodies_of(const TopoDS_Shape& shape) {
    std::vector<ProductBody> bodies;
    if (shape.IsNull()) return bodies;
    const auto collect = [&](TopAbs_ShapeEnum kind, TopAbs_ShapeEnum avoid) {
        TopTools_MapOfShape seen;
        for (TopExp_Explorer item(shape, kind, avoid); item.More(); item.Next()) {
            if (!seen.Add(item.Current())) continue;
            ProductBody body = body_of(item.Current(), kind == TopAbs_SOLID);
            if (!body.faces.empty()) bodies.push_back(std::move(body));
        }
    };
    collect(TopAbs_SOLID, TopAbs_SHAPE);
    collect(TopAbs_SHELL, TopAbs_SOLID);
    collect(TopAbs_FACE, TopAbs_SHELL);
    return bodies;
}

void place(const Model& model, Layout& layout, const Instance& instance, std::vector<int> path,
           const TopLoc_Location& above) {
    const Product& product = model.products[static_cast<std::size_t>(instance.product)];
    const TopLoc_Location location = above * instance.location;
    const auto& bodies = layout.products[static_cast<std::size_t>(instance.product)];
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        layout.occurrences.push_back({path, instance.product, location, bodies[i].shape});
        layout.product_body.push_back(static_cast<int>(i));
    }
    for (std::size_t i = 0; i < product.children.size(); ++i) {
        std::vector<int> below = path;
        below.push_back(static_cast<int>(i));
        place(model, layout, product.children[i], std::move(below), location);
    }
}

class Counter {
public:
    explicit Counter(const Model& model) : model_(model), counts_(model.products.size(), unknown) {}
    double of(int product) {
        double& count = counts_[static_cast<std::size_t>(product)];
        if (count == pending) return std::numeric_limits<double>::infinity();
        if (count != unknown) return count;
        count = pending;
        double sum = 1;
        for (const Instance& child : model_.products[static_cast<std::size_t>(product)].children)
            sum += of(child.product);
        return counts_[static_cast<std::size_t>(product)] = sum;
    }

private:
    static constexpr double unknown = -1, pending = -2;
    const Model& model_;
    std::vector<double> counts_;
};

} // namespace

double count_bodies(const Model& model) {
    Counter counter(model);
    double sum = 0;
    for (const Instance& root : model.roots)
        sum += counter.of(root.product);
    return sum;
}

Layout lay_out(const Model& model) {
    Layout layout;
    layout.products.reserve(model.products.size());
    for (const Product& product : model.products)
        layout.products.push_back(bodies_of(product.shape));
    for (std::size_t i = 0; i < model.roots.size(); ++i)
        place(model, layout, model.roots[i], {static_cast<int>(i)}, TopLoc_Location());
    return layout;
}

} // namespace touchmark::part
