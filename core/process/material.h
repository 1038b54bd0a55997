// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/adjustment.h"

/// What a material changes, whatever nozzle it goes through: a file in resources/materials.
///
///     {"format": "touchmark material", "version": 1, "title": "PETG", "material": "PETG in one colour",
///      "figures": [{"figure": "printing.bridge_sag", "factor": 1.5, "source": "assumed: …", "assumed": true},
///                  {"figure": "printing.speed", "value": 25, "unit": "mm/s", "source": "…"}]}
///
/// "figure" is a key as in figures.h. A limit that the profile does not give for exactly that mode and zone is taken
/// from the entry that counts there.
namespace touchmark::process {

struct MaterialFigure {
    std::string key;
    bool is_factor = false; ///< figure.value is multiplied with the profile's, else takes its place
    Sourced figure;         ///< the source says why
};

struct Material {
    std::string id;       ///< the file's stem: "petg"
    std::string title;    ///< "PETG"
    std::string material; ///< for people: what it is, and what to beware of
    std::vector<MaterialFigure> figures;
};

/// Strict, as parse_process() is. Errors: "process.malformed", "process.unit", "process.newer_version".
[[nodiscard]] Result<Material> parse_material(std::string_view json, std::string id);
/// All *.json of a folder, by title. A malformed file is an error.
[[nodiscard]] Result<std::vector<Material>> load_materials(const std::filesystem::path& folder);

/// The profile with that material: "fff-0.4" and "petg" give "fff-0.4-petg". The source of each figure that changed
/// says the factor, the figure it was and why; it is assumed when either was. Errors: as of adjusted().
[[nodiscard]] Result<Process> with_material(const Process& base, const Material& material);

} // namespace touchmark::process
