// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/prescan.h"
#include "core/part/shape.h"

#include <filesystem>

namespace touchmark::part {

/// Loads OpenCASCADE's STEP translator and its tables, which takes longer than a small part.
void prepare_step_reader();
/// A small STEP file that holds something of everything, to run the translator in with: what it binds and looks up the
/// first time, it need not in the processes forked after that.
[[nodiscard]] std::string practice_file();
/// Takes away OpenCASCADE's own way of talking to the terminal.
void silence_opencascade();

/// An assembly of assemblies multiplies: a few kilobytes can place more bodies than memory holds.
inline constexpr double most_bodies = 1e6;
[[nodiscard]] Error too_many_bodies(const std::string& file_name);

/// `bytes` are those of `file` from ISO-10303-21 on; `file` is absolute. Not safe to call from two threads: the
/// translator's settings are global. What it takes it does not give back: call it in a process that ends soon. Errors:
/// those of Reader::read() but for the process's.
[[nodiscard]] Result<Model> read_step(std::span<const char> bytes, const std::filesystem::path& file,
                                      const Prescan& prescan, const Progress& progress);

} // namespace touchmark::part
