// SPDX-License-Identifier: MIT
#include "app/viewport/egl_context.h"

#define EGL_NO_X11
#include <EGL/egl.h>
#include <EGL/eglext.h>

namespace touchmark::viewport {
namespace {

EGLDisplay open_display() {
    EGLDisplay display = EGL_NO_DISPLAY;
    const auto platform_display =
        reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(eglGetProcAddress("eglGetPlatformDisplayEXT"));
    if (platform_display) display = platform_display(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (display == EGL_NO_DISPLAY) display = eglGetDisplay(EGL_DEFAULT_DISPLAY);
    if (display == EGL_NO_DISPLAY || !eglInitialize(display, nullptr, nullptr)) return EGL_NO_DISPLAY;
    return display;
}

} // namespace

std::unique_ptr<EglContext> EglContext::create() {
    const EGLDisplay display = open_display();
    if (display == EGL_NO_DISPLAY || !eglBindAPI(EGL_OPENGL_API)) return nullptr;
    const EGLint wanted[] = {EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_NONE};
    EGLConfig config = nullptr;
    EGLint count = 0;
    if (!eglChooseConfig(display, wanted, &config, 1, &count) || count == 0) return nullptr;
    const EGLint version[] = {
        EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 2, EGL_CONTEXT_OPENGL_PROFILE_MASK,
        EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
    const EGLContext context = eglCreateContext(display, config, EGL_NO_CONTEXT, version);
    if (context == EGL_NO_CONTEXT) return nullptr;
    return std::unique_ptr<EglContext>(new EglContext(display, context));
}

// The display stays initialised: it is the process's, and others may use it.
EglContext::~EglContext() {
    if (is_current()) done_current();
    eglDestroyContext(display_, context_);
}

void EglContext::make_current() {
    eglBindAPI(EGL_OPENGL_API);
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, context_);
}

void EglContext::done_current() {
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
}

bool EglContext::is_current() const {
    return eglGetCurrentContext() == context_;
}

} // namespace touchmark::viewport
