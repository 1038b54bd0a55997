// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/step.h"

#include <STEPCAFControl_Writer.hxx>

#include <functional>

namespace touchmark::deliver {

/// Curves in the parameter plane double the file and the time. Whoever reads it makes them from the curves in space;
/// where that fails, they are written after all.
enum class ParameterCurves { omitted, written };

/// By OpenCASCADE's writer, strings encoded as the standard wants them. `inspect` sees the writer while it still knows
/// which entity stands for which shape. Errors: "deliver.write", file errors, "cancelled".
[[nodiscard]] Status write_reference(const part::Part& part, const std::filesystem::path& target,
                                     const std::filesystem::path& temporary, const StepOptions& options,
                                     ParameterCurves curves, const Progress& progress,
                                     const std::function<void(STEPCAFControl_Writer&)>& inspect = {});

/// Reads the file back and compares it with what was meant. Errors: "deliver.verify", "cancelled".
[[nodiscard]] Status read_back(const part::Part& meant, const std::filesystem::path& file, const StepOptions& options,
                               part::Reader& reader, const Progress& progress, StepReport& report);

/// mm in one of the part's file unit.
[[nodiscard]] double unit_in_mm(const std::string& unit);

} // namespace touchmark::deliver
