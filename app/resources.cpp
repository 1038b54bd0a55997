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

} // namespace touchmark
