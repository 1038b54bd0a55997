// SPDX-License-Identifier: MIT
#include "app/viewport/shaders.h"

#include <vtk_glew.h>

#include <vtkActor.h>
#include <vtkDataObject.h>
#include <vtkObjectFactory.h>
#include <vtkOpenGLFramebufferObject.h>
#include <vtkOpenGLRenderWindow.h>
#include <vtkOpenGLState.h>
#include <vtkRenderer.h>
#include <vtkShaderProperty.h>
#include <vtkTextureObject.h>
#include <vtkUniforms.h>

#include <array>
#include <string>
#include <string_view>

namespace touchmark::viewport {
namespace {

constexpr const char* light = R"(
  vec3 toned = diffuseColor;
  //Touchmark::Tone
  vec3 facing = normalVCVSOutput;
  const vec3 keyDirection = vec3(-0.42, 0.62, 0.66);
  float sky = 0.5 + 0.5 * dot(facing, upVC);
  float key = max(dot(facing, keyDirection), 0.0);
  float front = max(facing.z, 0.0);
  vec3 lit = toned * (0.44 + 0.24 * sky + 0.28 * key + 0.17 * front);
  //Touchmark::Carved
  float gloss = pow(max(dot(reflect(-keyDirection, facing), vec3(0.0, 0.0, 1.0)), 0.0), 22.0);
  gl_FragData[0] = vec4(lit + vec3(0.05 * gloss), opacity);
)";

// A cut is narrow: its floor lies in shadow, and its walls tell by more than the part's own light which way they look.
constexpr const char* in_a_cut = "lit = toned * (0.14 + 0.40 * sky + 1.15 * key * (1.0 - front) + 0.16 * front);";

// Which way the stripes run follows the axis that the surface faces most, so that they never fall together.
constexpr const char* stripes = R"(
  float avoid = avoidVSOutput;
  if (avoid > 0.5) {
    vec3 at = placeVSOutput;
    vec3 way = abs(cross(dFdx(at), dFdy(at)));
    float along = way.z >= way.x && way.z >= way.y ? at.x + at.y : (way.x > way.y ? at.y + at.z : at.x + at.z);
    float turn = along / stripeSpacing;
    float width = max(fwidth(turn), 1e-6);
    float offset = abs(fract(turn) - 0.5);
    float line = smoothstep(0.5 - 0.14 - width, 0.5 - 0.14 + width, offset);
    toned = mix(toned, toned + (vec3(0.93) - toned) * 0.62, line * clamp(1.6 - width * 2.0, 0.0, 1.0));
  }
)";

constexpr const char* plate = R"(
  vec2 at = placeVSOutput.xy;
  vec2 pixel = fwidth(at) * plateDetail; // of the screen, however many are drawn for one
  vec2 fine = abs(fract(at - 0.5) - 0.5) / pixel;
  vec2 coarse = abs(fract(at / 10.0 - 0.5) - 0.5) * 10.0 / pixel;
  vec2 fineShown = clamp(0.32 / pixel - 1.6, 0.0, 1.0);
  vec2 coarseShown = clamp(3.2 / pixel - 1.6, 0.0, 1.0);
  vec2 fineLine = (1.0 - min(fine, 1.0)) * fineShown * 0.16;
  vec2 coarseLine = (1.0 - min(coarse, 1.0)) * coarseShown * 0.34;
  float line = max(max(fineLine.x, fineLine.y), max(coarseLine.x, coarseLine.y));
  vec3 sheet = mix(diffuseColor, plateLine, line) * (1.0 - shadeVSOutput * plateShadow);
  vec2 inside = plateHalf - abs(at);
  float radius = 4.0;
  vec2 corner = max(vec2(radius) - inside, 0.0);
  float within = radius - length(corner);
  float edge = clamp(within / max(pixel.x, pixel.y), 0.0, 1.0);
  float border = edge * (1.0 - clamp(within / max(pixel.x, pixel.y) - 1.0, 0.0, 1.0));
  sheet = mix(sheet, plateLine, border * 0.5);
  bool below = plateAbove < 0.0;
  gl_FragData[0] = vec4(sheet, edge * (below ? 0.16 : 1.0));
)";

// By three thousandths of the distance, a few pixels' width: a line is as deep at its sides as in its middle. In mm,
// not in depth's own measure, which is coarse far away. gl_Position.w is the distance along the view axis.
constexpr const char* nearer = R"(
  if (dot(outward, eyeMC - vertexMC.xyz) > 0.0) {
    float distance = max(gl_Position.w * 0.997, nearPlane * 1.001);
    float depth = (farPlane + nearPlane - 2.0 * farPlane * nearPlane / distance) / (farPlane - nearPlane);
    gl_Position.z = depth * gl_Position.w;
  }
)";

std::string put_in(std::string source, std::string_view mark, const char* code) {
    return source.replace(source.find(mark), mark.size(), code);
}

void hand_over_place(vtkShaderProperty& shader, const char* attribute) {
    const std::string name = attribute;
    shader.AddVertexShaderReplacement("//VTK::PositionVC::Dec", true,
                                      "//VTK::PositionVC::Dec\nin float " + name + ";\nout float " + name +
                                          "VSOutput;\nout vec3 placeVSOutput;\n",
                                      false);
    shader.AddVertexShaderReplacement(
        "//VTK::PositionVC::Impl", true,
        "//VTK::PositionVC::Impl\n  " + name + "VSOutput = " + name + ";\n  placeVSOutput = vertexMC.xyz;\n", false);
    shader.AddFragmentShaderReplacement(
        "//VTK::PositionVC::Dec", true,
        "//VTK::PositionVC::Dec\nin float " + name + "VSOutput;\nin vec3 placeVSOutput;\n", false);
}

/// VTK 9.1 makes a depth texture with stencil where the window is to have one, and attaches only its depth.
void attach_stencil(vtkOpenGLRenderWindow& window) {
    vtkTextureObject* depth = window.GetRenderFramebuffer()->GetDepthAttachmentAsTextureObject();
    if (depth)
        glFramebufferTexture2D(GL_DRAW_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_TEXTURE_2D, depth->GetHandle(), 0);
}

} // namespace

vtkStandardNewMacro(RecedingMapper);

void RecedingMapper::RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) {
    glEnable(GL_POLYGON_OFFSET_FILL);
    glPolygonOffset(1.0F, 2.0F);
    this->Superclass::RenderPieceDraw(renderer, actor);
    glDisable(GL_POLYGON_OFFSET_FILL);
}

vtkStandardNewMacro(OpeningMapper);

void OpeningMapper::RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) {
    auto* window = static_cast<vtkOpenGLRenderWindow*>(renderer->GetRenderWindow());
    attach_stencil(*window);
    vtkOpenGLState* state = window->GetState();
    state->Push();
    state->vtkglColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
    state->vtkglEnable(GL_STENCIL_TEST);
    state->vtkglStencilMask(0xff);
    state->vtkglClear(GL_STENCIL_BUFFER_BIT);
    state->vtkglDepthMask(GL_FALSE);
    state->vtkglStencilFunc(GL_ALWAYS, 1, 0xff);
    state->vtkglStencilOp(GL_KEEP, GL_KEEP, GL_REPLACE); // where it is in sight
    this->Superclass::RenderPieceDraw(renderer, actor);
    state->vtkglStencilOp(GL_KEEP, GL_KEEP, GL_ZERO); // but not where there is nothing under it
    glEnable(GL_POLYGON_OFFSET_FILL);
    glPolygonOffset(4.0F, 64.0F);
    this->Superclass::RenderPieceDraw(renderer, actor);
    glDisable(GL_POLYGON_OFFSET_FILL);
    state->vtkglDepthMask(GL_TRUE);
    state->vtkglDepthFunc(GL_ALWAYS);
    state->vtkglStencilFunc(GL_EQUAL, 1, 0xff);
    state->vtkglStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
    glDepthRange(1, 1);
    this->Superclass::RenderPieceDraw(renderer, actor);
    glDepthRange(0, 1);
    state->Pop();
}

vtkStandardNewMacro(SunkenMapper);

void SunkenMapper::RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) {
    vtkOpenGLState* state = static_cast<vtkOpenGLRenderWindow*>(renderer->GetRenderWindow())->GetState();
    state->Push();
    state->vtkglEnable(GL_STENCIL_TEST);
    state->vtkglStencilFunc(GL_EQUAL, 1, 0xff);
    state->vtkglStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
    this->Superclass::RenderPieceDraw(renderer, actor);
    state->Pop();
}

void light_softly(vtkActor& actor) {
    actor.GetShaderProperty()->AddFragmentShaderReplacement("//VTK::Light::Impl", true, light, false);
    set_view(actor, {0, 1, 0});
}

void light_cut(vtkActor& actor) {
    actor.GetShaderProperty()->AddFragmentShaderReplacement("//VTK::Light::Impl", true,
                                                            put_in(light, "//Touchmark::Carved", in_a_cut), false);
    set_view(actor, {0, 1, 0});
}

void stripe_avoided(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor) {
    mapper.MapDataArrayToVertexAttribute("avoid", "avoid", vtkDataObject::FIELD_ASSOCIATION_POINTS);
    vtkShaderProperty& shader = *actor.GetShaderProperty();
    hand_over_place(shader, "avoid");
    const std::string cuts = "if (avoid < -0.5) " + std::string(in_a_cut);
    shader.AddFragmentShaderReplacement(
        "//VTK::Light::Impl", true,
        put_in(put_in(light, "//Touchmark::Tone", stripes), "//Touchmark::Carved", cuts.c_str()), false);
    set_stripes(actor, 1);
}

void set_stripes(vtkActor& actor, double spacing_mm) {
    actor.GetShaderProperty()->GetFragmentCustomUniforms()->SetUniformf("stripeSpacing",
                                                                        static_cast<float>(spacing_mm));
}

void bring_nearer(vtkActor& actor, double share) {
    actor.GetShaderProperty()->AddVertexShaderReplacement(
        "//VTK::PositionVC::Impl", true,
        "//VTK::PositionVC::Impl\n  gl_Position.z -= " + std::to_string(2 * share) + " * gl_Position.w;\n", false);
}

void bring_nearer_where_facing(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor) {
    mapper.MapDataArrayToVertexAttribute("outward", "outward", vtkDataObject::FIELD_ASSOCIATION_POINTS);
    vtkShaderProperty& shader = *actor.GetShaderProperty();
    shader.AddVertexShaderReplacement("//VTK::PositionVC::Dec", true, "//VTK::PositionVC::Dec\nin vec3 outward;\n",
                                      false);
    shader.AddVertexShaderReplacement("//VTK::PositionVC::Impl", true,
                                      "//VTK::PositionVC::Impl\n" + std::string(nearer), false);
    set_eye(actor, {});
}

void set_eye(vtkActor& actor, const Eye& eye) {
    vtkUniforms* uniforms = actor.GetShaderProperty()->GetVertexCustomUniforms();
    uniforms->SetUniformf("nearPlane", static_cast<float>(eye.near_plane));
    uniforms->SetUniformf("farPlane", static_cast<float>(eye.far_plane));
    const std::array at{static_cast<float>(eye.at.x), static_cast<float>(eye.at.y), static_cast<float>(eye.at.z)};
    uniforms->SetUniform3f("eyeMC", at.data());
}

void draw_plate(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor) {
    mapper.MapDataArrayToVertexAttribute("shade", "shade", vtkDataObject::FIELD_ASSOCIATION_POINTS);
    hand_over_place(*actor.GetShaderProperty(), "shade");
    actor.GetShaderProperty()->AddFragmentShaderReplacement("//VTK::Light::Impl", true, plate, false);
}

void set_view(vtkActor& actor, Vec3 up_in_view) {
    const std::array up{static_cast<float>(up_in_view.x), static_cast<float>(up_in_view.y),
                        static_cast<float>(up_in_view.z)};
    actor.GetShaderProperty()->GetFragmentCustomUniforms()->SetUniform3f("upVC", up.data());
}

} // namespace touchmark::viewport
