// SPDX-License-Identifier: MIT
#include "app/resources.h"

#include <cstdlib>

namespace touchmark {

std::filesystem::path resources_folder() {
    namespace fs = std::filesystem;
    if (const char* named = std::getenv("TOUCHMARK_RESOURCES"); named && *named) return named;
    std::error_code error;
    const fs::path program = fs::read_symlink("/proc/self/exe", error);
    const fs::path installed = program.parent_path().parent_path() / "share" / "touchmark";
    if (!error && fs::is_directory(installed, error)) return installed;
    return TOUCHMARK_BUILT_WITH_RESOURCES;
}

std::filesystem::path own_processes_folder() {
    namespace fs = std::filesystem;
    const auto named = [](const char* variable) {
        const char* value = std::getenv(variable);
        return fs::path(value ? value : "");
    };
    fs::path data = named("XDG_DATA_HOME");
    if (!data.is_absolute()) {
        const fs::path home = named("HOME");
        if (!home.is_absolute()) return {};
        data = home / ".local" / "share";
    }
    return data / "touchmark" / "processes";
}

} // namespace touchmark
