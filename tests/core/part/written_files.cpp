// SPDX-License-Identifier: MIT
#include "tests/core/part/written_files.h"

#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Writer.hxx>
#include <TDocStd_Document.hxx>
#include <TopLoc_Location.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <gp_Trsf.hxx>

#include <functional>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

namespace touchmark::test {
namespace {

std::filesystem::path written_by(const Folder& folder, const std::function<void(const char*)>& write) {
    const std::filesystem::path file = folder.path() / "written.stp";
    const pid_t writer = ::fork();
    if (writer == 0) {
        write(file.c_str());
        ::_exit(0);
    }
    int status = 1;
    if (writer < 0 || ::waitpid(writer, &status, 0) < 0 || status != 0) throw std::runtime_error("the writer died");
    return file;
}

TopLoc_Location moved(double x, double y) {
    gp_Trsf by;
    by.SetTranslation(gp_Vec(x, y, 0));
    return {by};
}

void write_document(const Handle(TDocStd_Document) & document, const char* file) {
    STEPCAFControl_Writer writer;
    writer.Transfer(document);
    writer.Write(file);
}

} // namespace

std::filesystem::path written(const Folder& folder, const TopoDS_Shape& shape) {
    return written_by(folder, [&](const char* file) {
        STEPControl_Writer writer;
        writer.Transfer(shape, STEPControl_AsIs);
        writer.Write(file);
    });
}

std::filesystem::path written_copies(const Folder& folder, const TopoDS_Shape& shape, int copies, int levels) {
    return written_by(folder, [&](const char* file) {
        const Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
        const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
        const TDF_Label part = shapes->AddShape(shape, false);
        TDF_Label top = shapes->NewShape();
        for (int i = 0; i < copies; ++i)
            shapes->AddComponent(top, part, moved(0, 10.0 * i));
        for (int level = 0; level < levels; ++level) {
            const TDF_Label above = shapes->NewShape();
            shapes->AddComponent(above, top, moved(10, 0));
            top = above;
        }
        shapes->UpdateAssemblies();
        write_document(document, file);
    });
}

} // namespace touchmark::test
