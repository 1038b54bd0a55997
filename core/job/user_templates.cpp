// SPDX-License-Identifier: MIT
#include "core/job/user_templates.h"

#include "core/base/atomic_file.h"
#include "core/job/job_file.h"

#include <algorithm>
#include <cstdlib>

namespace touchmark::job {
namespace {

namespace fs = std::filesystem;

/// A name is the file's: nothing in it may lead elsewhere.
Status check_name(std::string_view name) {
    const auto good = [](unsigned char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ' || c == '-' ||
               c == '_' || c >= 0x80;
    };
    if (!name.empty() && name.size() <= 100 && std::ranges::all_of(name, good)) return {};
    return fail("job.template_name", "A template cannot be called \"" + std::string(name.substr(0, 60)) + "\".",
                "Use letters, figures, spaces, dashes and underscores.");
}

} // namespace

fs::path template_folder() {
    const char *data = std::getenv("XDG_DATA_HOME"), *home = std::getenv("HOME");
    const fs::path base = data && *data == '/' ? fs::path(data) : fs::path(home ? home : ".") / ".local" / "share";
    return base / "touchmark" / "templates";
}

Status save_template(const fs::path& folder, std::string_view name, const content::Content& content) {
    if (Status good = check_name(name); !good) return good;
    Mark mark;
    mark.name = name;
    mark.content = content;
    mark.anchor.face = 0;
    const Result<Job> made = add_mark({}, std::move(mark));
    if (!made) return std::unexpected(made.error());
    std::error_code error;
    fs::create_directories(folder, error);
    return write_text_atomically(folder / (std::string(name) + ".json"), to_json(*made, folder));
}

Result<content::Content> load_template(const fs::path& folder, std::string_view name) {
    if (Status good = check_name(name); !good) return std::unexpected(good.error());
    const Result<std::string> text = read_text(folder / (std::string(name) + ".json"));
    if (!text)
        return fail("job.no_template", "There is no template \"" + std::string(name) + "\".",
                    "touchmark-cli templates lists those there are.");
    Result<Job> made = from_json(*text, folder);
    if (!made) return std::unexpected(made.error());
    if (made->marks.size() != 1)
        return fail("job.malformed", "The template \"" + std::string(name) + "\" has no content.");
    return std::move(made->marks.front().content);
}

std::vector<std::string> template_names(const fs::path& folder) {
    std::vector<std::string> names;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder, error))
        if (entry.path().extension() == ".json") names.push_back(entry.path().stem().string());
    std::ranges::sort(names);
    return names;
}

} // namespace touchmark::job
