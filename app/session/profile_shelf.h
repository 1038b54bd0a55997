// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/profiles.h"

#include <QObject>
#include <memory>

namespace touchmark::session {

/// The profiles that can be chosen: those that come along and the user's own, which are kept as files.
class ProfileShelf : public QObject {
    Q_OBJECT

public:
    /// `own`: the folder of the user's own; it is made when the first is kept. Empty: none can be kept.
    ProfileShelf(process::Profiles built_in, std::filesystem::path own, QObject* parent = nullptr);

    [[nodiscard]] const process::Profiles& profiles() const { return profiles_; }
    [[nodiscard]] std::shared_ptr<const std::vector<process::Process>> processes() const { return processes_; }
    [[nodiscard]] const process::Profile* find(std::string_view id) const { return profiles_.find(id); }
    /// Whether the program may change its file: an own one that stands on another.
    [[nodiscard]] bool editable(std::string_view id) const;

    /// Keeps a new one; gives back its id. It must be usable: what cannot stand on its base is refused, not written.
    [[nodiscard]] Result<std::string> add(const process::Derivation& derivation);
    /// REQUIRES: editable(id).
    [[nodiscard]] Status change(std::string_view id, const process::Derivation& derivation);
    [[nodiscard]] Status rename(std::string_view id, const std::string& title);
    /// An own one, whether editable or not. Errors: "process.in_use" when another one stands on it; file errors.
    [[nodiscard]] Status remove(std::string_view id);
    /// The one that was removed last, under the same id, which it gives back. Errors: "process.nothing_removed"; file
    /// errors.
    [[nodiscard]] Result<std::string> bring_back();

    /// A title that no profile has yet: "Shop 0.4", "Shop 0.4 (2)".
    [[nodiscard]] std::string free_title(const std::string& wanted) const;

signals:
    void changed();

private:
    void load();
    [[nodiscard]] Status usable(const process::Derivation& derivation) const;

    process::Profiles built_in_, profiles_;
    std::filesystem::path own_;
    std::filesystem::path removed_file_; ///< empty: none was removed, or it is back
    std::string removed_text_;
    std::shared_ptr<const std::vector<process::Process>> processes_;
};

} // namespace touchmark::session
