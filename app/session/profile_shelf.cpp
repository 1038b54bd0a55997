// SPDX-License-Identifier: MIT
#include "app/session/profile_shelf.h"

#include "core/base/atomic_file.h"

#include <algorithm>

namespace touchmark::session {

ProfileShelf::ProfileShelf(process::Profiles built_in, std::filesystem::path own, QObject* parent)
    : QObject(parent), built_in_(std::move(built_in)), own_(std::move(own)) {
    load();
}

void ProfileShelf::load() {
    profiles_ = built_in_;
    if (!own_.empty()) process::add_own(profiles_, own_);
    processes_ = std::make_shared<const std::vector<process::Process>>(profiles_.processes());
}

bool ProfileShelf::editable(std::string_view id) const {
    const process::Profile* profile = find(id);
    return profile && profile->differs.has_value();
}

Status ProfileShelf::usable(const process::Derivation& derivation) const {
    const process::Profile* base = find(derivation.based_on);
    if (!base)
        return fail("process.no_base", "There is no profile " + derivation.based_on + " to stand on.",
                    "Choose another one.");
    const auto made = process::derived(base->process, derivation, "own");
    return made ? Status() : std::unexpected(made.error());
}

Result<std::string> ProfileShelf::add(const process::Derivation& derivation) {
    if (own_.empty())
        return fail("process.no_folder", "There is no folder for profiles of your own.",
                    "Set HOME or XDG_DATA_HOME, and start the program again.");
    if (const Status good = usable(derivation); !good) return std::unexpected(good.error());
    const auto file = process::save_profile(own_, derivation);
    if (!file) return std::unexpected(file.error());
    load();
    emit changed();
    return file->stem().string();
}

Status ProfileShelf::change(std::string_view id, const process::Derivation& derivation) {
    if (const Status good = usable(derivation); !good) return good;
    if (const Status done = process::replace_profile(find(id)->file, derivation); !done) return done;
    load();
    emit changed();
    return {};
}

Status ProfileShelf::rename(std::string_view id, const std::string& title) {
    process::Derivation derivation = *find(id)->differs;
    derivation.title = title;
    return change(id, derivation);
}

Status ProfileShelf::remove(std::string_view id) {
    for (const process::Profile& other : profiles_.all)
        if (other.origin == process::Origin::own && other.based_on == id)
            return fail("process.in_use", "\"" + other.process.title + "\" stands on it.", "Delete that one first.");
    const std::filesystem::path file = find(id)->file;
    const Result<std::string> text = read_text(file);
    if (!text) return std::unexpected(text.error());
    std::error_code error;
    if (!std::filesystem::remove(file, error))
        return fail("file.not_writable", "Cannot delete " + file.string() + ".", "Check its permissions.");
    removed_file_ = file;
    removed_text_ = *text;
    load();
    emit changed();
    return {};
}

Result<std::string> ProfileShelf::bring_back() {
    if (removed_file_.empty() || std::filesystem::exists(removed_file_))
        return fail("process.nothing_removed", "There is nothing to bring back.");
    if (const Status done = write_text_atomically(removed_file_, removed_text_); !done)
        return std::unexpected(done.error());
    const std::string id = std::exchange(removed_file_, {}).stem().string();
    load();
    emit changed();
    return id;
}

std::string ProfileShelf::free_title(const std::string& wanted) const {
    const auto taken = [&](const std::string& title) {
        return std::ranges::any_of(profiles_.all,
                                   [&](const process::Profile& profile) { return profile.process.title == title; });
    };
    std::string title = wanted;
    for (int count = 2; taken(title); ++count)
        title = wanted + " (" + std::to_string(count) + ")";
    return title;
}

} // namespace touchmark::session
