// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/adjustment.h"

namespace touchmark::process {

enum class Origin {
    built_in, ///< comes along with the program
    composed, ///< built in as well: a plain profile with a material
    own,      ///< the user's
};

/// A profile with where it comes from.
struct Profile {
    Process process;
    Origin origin = Origin::built_in;
    std::string based_on;              ///< id; empty where it stands by itself
    std::string material;              ///< of a composed one: "petg"
    std::filesystem::path file;        ///< of a composed one: the material's
    std::optional<Derivation> differs; ///< what the file of an own one says, when it stands on another
};

/// A file that could not be used, and why.
struct LeftOut {
    std::filesystem::path file;
    Error error;
};

struct Profiles {
    /// Plain extrusion by nozzle; with each material, by nozzle; other processes; the user's own by title.
    std::vector<Profile> all;
    std::vector<LeftOut> left_out; ///< of the user's own

    [[nodiscard]] const Profile* find(std::string_view id) const;
    [[nodiscard]] std::vector<Process> processes() const;
};

/// What comes along: resources/processes, and each of its extrusion profiles with each of resources/materials. A
/// malformed file is an error.
[[nodiscard]] Result<Profiles> load_built_in(const std::filesystem::path& resources);

/// Adds the user's. None of their files can stop the program: one that is malformed, that has the id of a profile that
/// is there already, or whose base is missing, left out or stands on it in a circle, is left out and named. A folder
/// that does not exist holds none.
void add_own(Profiles& profiles, const std::filesystem::path& folder);

} // namespace touchmark::process
