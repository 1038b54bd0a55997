// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <stdexcept>

namespace touchmark::test {

/// A part of one product that holds the shape, placed as told.
[[nodiscard]] inline part::PartPtr made_part(const TopoDS_Shape& shape, const TopLoc_Location& location = {}) {
    part::Model model;
    part::Product product;
    product.name = "made";
    product.shape = shape;
    model.products.push_back(std::move(product));
    part::Instance root;
    root.location = location;
    model.roots.push_back(std::move(root));
    model.name = "made";
    auto part = part::make_part(std::move(model), Digest{1, 2}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

} // namespace touchmark::test
