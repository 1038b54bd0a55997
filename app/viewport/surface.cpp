// SPDX-License-Identifier: MIT
#include "app/viewport/surface.h"

#include <QGuiApplication>
#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QOpenGLFunctions>

namespace touchmark::viewport {
namespace {

bool windows_have_opengl() {
    const QString platform = QGuiApplication::platformName();
    if (platform == QLatin1String("offscreen") || platform == QLatin1String("minimal") ||
        platform == QLatin1String("vnc") || platform == QLatin1String("linuxfb"))
        return false;
    QSurfaceFormat format;
    format.setRenderableType(QSurfaceFormat::OpenGL);
    format.setVersion(3, 2);
    format.setProfile(QSurfaceFormat::CoreProfile);
    QOpenGLContext context;
    context.setFormat(format);
    if (!context.create()) return false;
    QOffscreenSurface surface;
    surface.setFormat(context.format());
    surface.create();
    if (!context.makeCurrent(&surface) || context.format().version() < qMakePair(3, 2)) return false;
    // Where the processor draws, composing through Qt costs more than painting the finished picture (measured), and
    // Mesa's llvmpipe leaves the plate black in Qt's context.
    const auto* renderer = reinterpret_cast<const char*>(context.functions()->glGetString(GL_RENDERER));
    const QByteArray name = QByteArray(renderer).toLower();
    return !name.contains("llvmpipe") && !name.contains("softpipe") && !name.contains("swrast");
}

} // namespace

std::unique_ptr<Surface> make_surface(QWidget* parent) {
    const QByteArray wish = qgetenv("TOUCHMARK_VIEWPORT");
    static const bool composed = wish == "gl" || (wish != "raster" && windows_have_opengl());
    return composed ? make_gl_surface(parent) : make_raster_surface(parent);
}

} // namespace touchmark::viewport
