// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"

#include <STEPCAFControl_Reader.hxx>

namespace touchmark::part {

/// Gives the model's faces, shells and solids the names that the file has for them. OpenCASCADE's own way
/// ("read.stepcaf.subshapes.name") crashes on files whose shape aspects have representations of their own.
void add_sub_shape_names(const STEPCAFControl_Reader& reader, Model& model);

} // namespace touchmark::part
