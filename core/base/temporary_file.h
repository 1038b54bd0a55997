// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>

namespace touchmark {

/// A file of its own in the system's folder for temporary files, gone with this.
class TemporaryFile {
public:
    TemporaryFile();
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    ~TemporaryFile();
    /// Empty where none could be made.
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

} // namespace touchmark
