// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <TDocStd_Document.hxx>

#include <string>

namespace touchmark::deliver {

/// The model as OpenCASCADE's extended data: each product once, instances placed, names and colours where they were.
/// `nameless` names what has no name and lies in nothing that has one.
/// Throws Standard_Failure.
[[nodiscard]] Handle(TDocStd_Document) document_of(const part::Model& model, const std::string& nameless);

} // namespace touchmark::deliver
