// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <TDocStd_Document.hxx>

namespace touchmark::part {

/// The document's products, each once, with their instances, names and colours.
[[nodiscard]] Model model_of(const Handle(TDocStd_Document) & document);

} // namespace touchmark::part
