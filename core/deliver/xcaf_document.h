// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <TDocStd_Document.hxx>

namespace touchmark::deliver {

/// The model as OpenCASCADE's extended data: each product once, instances placed, names and colours where they were.
/// Throws Standard_Failure.
[[nodiscard]] Handle(TDocStd_Document) document_of(const part::Model& model);

} // namespace touchmark::deliver
