// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/parameter.h"

namespace touchmark::job {

// The parts of the table of parameters, in the order in which they stand in it.
[[nodiscard]] std::vector<Parameter> content_rows();   ///< what it says, and of which kind it is
[[nodiscard]] std::vector<Parameter> style_rows();     ///< mode and depth
[[nodiscard]] std::vector<Parameter> lettering_rows(); ///< of content::Text
[[nodiscard]] std::vector<Parameter> code_rows();      ///< of content::Code
[[nodiscard]] std::vector<Parameter> art_rows();       ///< of content::Art
[[nodiscard]] std::vector<Parameter> place_rows();

[[nodiscard]] inline double number(const Value& value) {
    return std::get<double>(value);
}
[[nodiscard]] inline const std::string& words(const Value& value) {
    return std::get<std::string>(value);
}

} // namespace touchmark::job
