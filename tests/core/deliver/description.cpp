// SPDX-License-Identifier: MIT
#include "tests/core/deliver/description.h"

#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <vector>

namespace touchmark::test {
namespace {

std::string rounded(double value) {
    char text[40];
    std::snprintf(text, sizeof text, " %.4f", std::abs(value) < 5e-5 ? 0.0 : value);
    return text;
}

std::string of(const char* what, const std::optional<part::Colour>& colour) {
    if (!colour) return {};
    char text[60];
    std::snprintf(text, sizeof text, " %s %.3f,%.3f,%.3f", what, static_cast<double>(colour->red),
                  static_cast<double>(colour->green), static_cast<double>(colour->blue));
    return text;
}

std::string of(const TopLoc_Location& location) {
    std::string text;
    const gp_Trsf move = location.Transformation();
    for (int row = 1; row <= 3; ++row)
        for (int column = 1; column <= 4; ++column)
            text += rounded(move.Value(row, column));
    return text;
}

int count(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape map;
    TopExp::MapShapes(shape, kind, map);
    return map.Extent();
}

/// Names and colours by the place of the shape in its product.
std::vector<std::string> styles(const part::Product& product) {
    std::vector<std::string> lines;
    if (product.shape.IsNull()) return lines;
    // OpenCASCADE does not write the colours of curves that bound nothing.
    if (count(product.shape, TopAbs_FACE) == 0) return lines;
    for (const part::Styled& styled : product.styled) {
        TopTools_IndexedMapOfShape map;
        TopExp::MapShapes(product.shape, styled.shape.ShapeType(), map);
        const int place = map.FindIndex(styled.shape);
        if (place == 0) continue;
        lines.push_back("kind " + std::to_string(styled.shape.ShapeType()) + " #" + std::to_string(place) + " \"" +
                        styled.name + "\"" + of("surface", styled.surface) + of("curve", styled.curve));
    }
    std::sort(lines.begin(), lines.end());
    return lines;
}

void describe(const part::Model& model, const part::Instance& instance, const std::string& indent,
              std::vector<std::string>& out) {
    const part::Product& product = model.products[static_cast<std::size_t>(instance.product)];
    out.push_back(indent + "instance \"" + instance.name + "\"" + of(instance.location) +
                  of("colour", instance.colour));
    std::string line = indent + "product " + std::to_string(instance.product) + " \"" + product.name + "\"";
    const std::pair<const char*, TopAbs_ShapeEnum> kinds[] = {
        {" solids ", TopAbs_SOLID}, {" shells ", TopAbs_SHELL}, {" faces ", TopAbs_FACE}, {" edges ", TopAbs_EDGE}};
    if (!product.shape.IsNull())
        for (const auto& [text, kind] : kinds)
            line += text + std::to_string(count(product.shape, kind));
    out.push_back(line);
    for (const std::string& style : styles(product))
        out.push_back(indent + "  " + style);
    for (const part::Instance& child : product.children)
        describe(model, child, indent + "  ", out);
}

} // namespace

std::vector<std::string> description(const part::Part& part) {
    const part::Model& model = part::model(part);
    std::vector<std::string> out{"unit " + part.file_unit(), "products " + std::to_string(model.products.size())};
    for (const part::Instance& root : model.roots)
        describe(model, root, "", out);
    return out;
}

bool same_but_for_missing_names(const std::string& meant, const std::string& back) {
    const std::size_t empty = meant.find("\"\"");
    if (empty == std::string::npos) return meant == back;
    const std::string before = meant.substr(0, empty + 1), after = meant.substr(empty + 1);
    return back.size() + 1 >= meant.size() && back.starts_with(before) && back.ends_with(after);
}

} // namespace touchmark::test
