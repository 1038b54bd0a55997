// SPDX-License-Identifier: MIT
#pragma once

#include <memory>

namespace touchmark::viewport {

/// An OpenGL 3.2 core context with no window, no surface and no display server: what pictures, tests and machines
/// without OpenGL windows draw with.
class EglContext {
public:
    /// nullptr when the machine has no EGL at all.
    [[nodiscard]] static std::unique_ptr<EglContext> create();
    ~EglContext();
    EglContext(const EglContext&) = delete;
    EglContext& operator=(const EglContext&) = delete;

    void make_current();
    void done_current();
    [[nodiscard]] bool is_current() const;

private:
    EglContext(void* display, void* context) : display_(display), context_(context) {}
    void* display_;
    void* context_;
};

} // namespace touchmark::viewport
