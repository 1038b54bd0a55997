// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <string>
#include <vector>

namespace touchmark::test {

/// The product structure of a part, a line for each product, instance, name and style, so that two readings compare
/// line by line and a difference shows where it is. A product's own colour is left out, for it may as well be given to
/// its solids: compare the colours of the faces.
[[nodiscard]] std::vector<std::string> description(const part::Part& part);
/// Whether `back` says the same as `meant`, where a name that was empty may have become any.
[[nodiscard]] bool same_but_for_missing_names(const std::string& meant, const std::string& back);

} // namespace touchmark::test
