// SPDX-License-Identifier: MIT
#include "app/viewport/surface.h"

#include <QElapsedTimer>
#include <QOpenGLContext>
#include <QOpenGLWidget>
#include <cmath>

namespace touchmark::viewport {
namespace {

QSurfaceFormat format_for_vtk() {
    QSurfaceFormat format;
    format.setRenderableType(QSurfaceFormat::OpenGL);
    format.setVersion(3, 2);
    format.setProfile(QSurfaceFormat::CoreProfile);
    format.setDepthBufferSize(24);
    format.setSamples(0); // drawn larger and scaled down instead
    return format;
}

class GlSurface final : public QOpenGLWidget, public Surface {
public:
    explicit GlSurface(QWidget* parent)
        : QOpenGLWidget(parent),
          host_({[this] { makeCurrent(); },
                 [this] { return context() && QOpenGLContext::currentContext() == context(); }}) {
        setFormat(format_for_vtk());
        setAttribute(Qt::WA_TransparentForMouseEvents);
    }

    // ~QOpenGLWidget announces the context's end when host_ is already gone.
    ~GlSurface() override {
        disconnect(context_end_);
        makeCurrent();
        host_.release();
        doneCurrent();
    }

    QWidget& widget() override { return *this; }
    VtkHost& host() override { return host_; }
    void refresh() override { update(); }
    QImage grab() override { return grabFramebuffer(); }
    bool works() const override { return true; }

protected:
    void initializeGL() override { // again after the widget moved to another window: the old context is gone
        disconnect(context_end_);
        context_end_ = connect(context(), &QOpenGLContext::aboutToBeDestroyed, this, [this] {
            makeCurrent();
            host_.release();
            doneCurrent();
        });
        host_.init();
    }

    void resizeGL(int width, int height) override {
        const double ratio = devicePixelRatioF();
        host_.resize(static_cast<int>(std::lround(width * ratio)), static_cast<int>(std::lround(height * ratio)));
    }

    void paintGL() override {
        QElapsedTimer timer;
        timer.start();
        if (before_frame) before_frame();
        host_.render_to(defaultFramebufferObject(), VtkHost::Rows::bottom_first);
        if (after_frame) after_frame(static_cast<double>(timer.nsecsElapsed()) * 1e-6);
    }

private:
    VtkHost host_;
    QMetaObject::Connection context_end_;
};

} // namespace

std::unique_ptr<Surface> make_gl_surface(QWidget* parent) {
    return std::make_unique<GlSurface>(parent);
}

} // namespace touchmark::viewport
