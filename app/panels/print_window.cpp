// SPDX-License-Identifier: MIT
#include "app/panels/print_window.h"

#include "app/panels/combo.h"
#include "app/panels/look.h"
#include "app/panels/outline_thumbnail.h"
#include "app/panels/printed_picture.h"
#include "app/panels/severity_mark.h"
#include "core/content/code.h"
#include "core/content/variables.h"
#include "core/print/text_reading.h"
#include "core/process/extrusion.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QSlider>
#include <QTabBar>
#include <QTableWidget>
#include <QVBoxLayout>
#include <cmath>
#include <tuple>

namespace touchmark::panels {
namespace {

constexpr double most_pixels = 1600; // of a picture's longer side
constexpr double finest = 20;        // pixels a mm

QString percent(double share) {
    return QStringLiteral("%1 %").arg(std::lround(100 * share));
}

/// The printed mark's box with what lies about it, mark mm.
Box2 shown_box(const print::PrintedMark& printed) {
    Box2 box;
    const print::Grid& grid = printed.printed.relief.grid;
    for (const Vec2 corner : {Vec2{0, 0}, Vec2{1, 0}, Vec2{0, 1}, Vec2{1, 1}})
        box.add(printed.printed.to_mark(
            grid.low + Vec2{corner.x * grid.columns * grid.step_x, corner.y * grid.rows * grid.step_y}));
    return box;
}

double pixels_a_mm(const Box2& box) {
    return std::min(finest, most_pixels / std::max(box.width(), box.height()));
}

/// The layer that departs most from its plan; of those that do not, the one in the middle that has most to show.
int most_telling(const print::Layers& layers) {
    const auto count = static_cast<int>(layers.layers.size());
    int best = 0;
    std::tuple<double, std::size_t, int> most{-1, 0, 0};
    for (int i = 0; i < count; ++i) {
        const auto& regions = layers.layers[static_cast<std::size_t>(i)].regions;
        std::size_t edges = 0;
        for (const geometry::Region& region : regions->planned.regions)
            edges += region.outer.segments.size() + region.holes.size();
        const std::tuple rank{geometry::area(regions->left_out) + geometry::area(regions->fused), edges,
                              -std::abs(i - count / 2)};
        if (rank > most) most = rank, best = i;
    }
    return best;
}

std::optional<rules::Severity> severity_of(print::Verdict verdict) {
    if (verdict == print::Verdict::lost) return rules::Severity::blocker;
    if (verdict == print::Verdict::at_risk) return rules::Severity::warning;
    return std::nullopt;
}

QTableWidgetItem* cell(const QString& text, bool figure) {
    auto* item = new QTableWidgetItem(text);
    item->setTextAlignment((figure ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
    return item;
}

} // namespace

PrintWindow::PrintWindow(session::Session& session, QWidget* parent)
    : QDialog(parent), session_(session), work_(this, pool_, session::Lane::Newer::cancels),
      reading_(this, pool_, session::Lane::Newer::cancels) {
    setWindowTitle(tr("Printed in simulation"));
    setModal(false);
    resize(1040, 560);
    title_ = new QLabel(this);
    title_->setFont(strong_font(*title_));
    severity_ = new SeverityMark(this);
    said_ = wrapping_label(this);
    make_quiet(*said_);
    picture_ = new PrintedPicture(this);
    build_controls();

    auto* head = new QHBoxLayout;
    head->setSpacing(2 * grid);
    head->addWidget(title_);
    head->addWidget(severity_);
    head->addStretch(1);
    head->addWidget(tabs_);
    auto* left = new QVBoxLayout;
    left->setSpacing(grid);
    left->addWidget(picture_, 1);
    left->addWidget(layer_row_);
    left->addWidget(look_row_);
    auto* middle = new QHBoxLayout;
    middle->setSpacing(2 * grid);
    middle->addLayout(left, 1);
    middle->addWidget(letters_);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(2 * grid, 2 * grid, 2 * grid, 2 * grid);
    layout->setSpacing(grid);
    layout->addLayout(head);
    layout->addLayout(middle, 1);
    layout->addWidget(said_);
    connect(&session_, &session::Session::changed, this, &PrintWindow::on_changed);
}

PrintWindow::~PrintWindow() {
    work_.cancel();
    reading_.cancel();
    pool_.waitForDone();
}

void PrintWindow::build_controls() {
    tabs_ = new QTabBar(this);
    tabs_->addTab(tr("Surface"));
    tabs_->addTab(tr("Layers"));
    tabs_->addTab(tr("How it looks"));
    tabs_->setDrawBase(false);
    tabs_->setExpanding(false);
    connect(tabs_, &QTabBar::currentChanged, this, &PrintWindow::refresh);

    const auto row = [this](QWidget*& made) {
        made = new QWidget(this);
        auto* layout = new QHBoxLayout(made);
        layout->setContentsMargins(0, 0, 0, 0);
        layout->setSpacing(grid);
        return layout;
    };
    QHBoxLayout* layer_layout = row(layer_row_);
    layer_ = new QSlider(Qt::Horizontal, layer_row_);
    layer_->setAccessibleName(tr("Layer"));
    layer_->setPageStep(1);
    layer_->setRange(0, 0);
    layer_said_ = new QLabel(layer_row_);
    layer_said_->setFont(figures_font(layer_said_->font()));
    layer_layout->addWidget(new QLabel(tr("Layer"), layer_row_));
    layer_layout->addWidget(layer_, 1);
    layer_layout->addWidget(layer_said_);
    connect(layer_, &QSlider::valueChanged, this, &PrintWindow::show_layer);

    QHBoxLayout* look_layout = row(look_row_);
    look_ = new Combo(look_row_);
    look_->setAccessibleName(tr("Light"));
    look_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    look_->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    look_said_ = wrapping_label(look_row_); // what a reader of print reads may be long
    look_layout->addWidget(new QLabel(tr("In"), look_row_));
    look_layout->addWidget(look_, 0, Qt::AlignTop);
    look_layout->addWidget(look_said_, 1);
    connect(look_, &QComboBox::currentIndexChanged, this, [this] {
        if (tabs_->currentIndex() == Tab::looks) show_look();
    });

    letters_ = new QTableWidget(0, 4, this);
    letters_->setHorizontalHeaderLabels({tr("Letter"), tr("Strokes"), tr("Openings"), tr("Area")});
    letters_->horizontalHeaderItem(0)->setTextAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    for (int column = 1; column < 4; ++column)
        letters_->horizontalHeaderItem(column)->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
    letters_->verticalHeader()->hide();
    letters_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    letters_->setSelectionMode(QAbstractItemView::NoSelection);
    letters_->setFocusPolicy(Qt::NoFocus);
    letters_->setShowGrid(false);
    letters_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    letters_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    letters_->verticalHeader()->setDefaultSectionSize(fontMetrics().height() + grid);
    letters_->setFixedWidth(300);
    letters_->setToolTip(tr("How much of each letter came out as planned, the worst first"));
}

void PrintWindow::showEvent(QShowEvent* event) {
    QDialog::showEvent(event);
    shown_.reset();
    refresh();
}

const job::Mark* PrintWindow::mark() const {
    const auto evaluation = session_.evaluation();
    if (!evaluation || evaluation->job.marks.empty()) return nullptr;
    const job::Mark* selected = evaluation->job.find(session_.selected_mark().toStdString());
    return selected ? selected : &evaluation->job.marks.front();
}

std::shared_ptr<const print::PrintedMark> PrintWindow::printed() const {
    const job::Mark* wanted = mark();
    if (!wanted) return nullptr;
    const auto& marks = session_.evaluation()->marks;
    const auto own = std::ranges::find(marks, wanted->id, &pipeline::MarkEvaluation::mark);
    return own == marks.end() ? nullptr : own->printed;
}

void PrintWindow::on_changed(session::Changes changes) {
    using session::Change;
    if (isVisible() && (changes & (Change::part | Change::evaluation | Change::selection))) refresh();
}

void PrintWindow::refresh() {
    const auto now = printed();
    const bool fresh = now != shown_ || !layers_;
    shown_ = now;
    if (fresh) layers_.reset();
    layer_row_->setVisible(tabs_->currentIndex() == Tab::layers);
    look_row_->setVisible(tabs_->currentIndex() == Tab::looks);
    refresh_verdict();
    refresh_letters();
    if (!shown_) {
        const bool can = session_.process().printing.has_value();
        picture_->show_words(!mark() ? tr("There is no mark to print.")
                             : can   ? tr("Being printed …")
                                     : text(process::no_simulated_print(session_.process()).message));
        return;
    }
    switch (tabs_->currentIndex()) {
    case Tab::surface:
        return show_surface();
    case Tab::layers:
        return show_layers();
    default:
        return show_look();
    }
}

void PrintWindow::refresh_verdict() {
    const job::Mark* own = mark();
    title_->setText(own ? text(own->name) : tr("No mark"));
    severity_->setVisible(shown_ != nullptr);
    said_->setVisible(session_.process().printing.has_value());
    said_->setText(
        tr("A geometric model of extrusion: it knows nothing of strings, seams, warping or colour. Orange was "
           "planned and did not come out, blue came out and was not planned."));
    if (!shown_) return;
    const print::Verdict verdict = shown_->verdict();
    const QString word = verdict == print::Verdict::reads     ? tr("Reads")
                         : verdict == print::Verdict::at_risk ? tr("Hard to read")
                                                              : tr("Lost");
    severity_->set(severity_of(verdict), word);
}

void PrintWindow::refresh_letters() {
    letters_->setRowCount(0);
    letters_->setVisible(shown_ && !shown_->pieces.empty());
    if (!shown_) return;
    std::vector<const print::PrintedPiece*> order;
    for (const print::PrintedPiece& piece : shown_->pieces)
        order.push_back(&piece);
    std::ranges::stable_sort(order, {}, [](const auto* piece) { return piece->fidelity.figure(); });
    letters_->setRowCount(static_cast<int>(order.size()));
    for (int row = 0; row < letters_->rowCount(); ++row) {
        const print::PrintedPiece& piece = *order[static_cast<std::size_t>(row)];
        const print::Fidelity& figures = piece.fidelity;
        letters_->setItem(row, 0, cell(text(piece.label), false));
        letters_->setItem(row, 1, cell(percent(figures.strokes), true));
        letters_->setItem(row, 2, cell(percent(figures.gaps), true));
        letters_->setItem(row, 3, cell(percent(figures.overlap), true));
        QFont font = letters_->font();
        font.setBold(figures.figure() < print::reads_from);
        for (int column = 0; column < 4; ++column)
            letters_->item(row, column)->setFont(font);
    }
}

void PrintWindow::show_surface() {
    const Mode mode = shown_->standing.mode;
    work_.run(tr("Drawing the print"), [this, printed = shown_, mode,
                                        figures = *session_.process().printing](const Progress&) {
        const Box2 box = shown_box(*printed);
        const print::Picture picture = print::picture_of(printed->printed, mode, figures, pixels_a_mm(box), true);
        return [this, image = image_of(picture), mm = box.width()] { picture_->show_image(image, mm); };
    });
}

void PrintWindow::show_layers() {
    if (layers_) return show_layer(layer_->value());
    const auto evaluation = session_.evaluation();
    const auto own = std::ranges::find(evaluation->marks, mark()->id, &pipeline::MarkEvaluation::mark);
    const auto index = static_cast<std::size_t>(own - evaluation->marks.begin());
    work_.run(
        tr("Laying the layers"),
        [this, evaluation, index, process = session_.process()](const Progress& progress) -> session::Lane::Deliver {
            auto made = pipeline::print_layers(*evaluation, index, process, progress);
            if (!made) return [this, words = text(made.error().message)] { picture_->show_words(words); };
            QPainterPath plan =
                path_of(geometry::transformed(evaluation->marks[index].drawn->outline, made->from_mark));
            return [this, layers = std::make_shared<const print::Layers>(*std::move(made)), plan = std::move(plan)] {
                layers_ = layers;
                plan_ = plan;
                const QSignalBlocker quiet(layer_);
                layer_->setRange(0, std::max(0, static_cast<int>(layers_->layers.size()) - 1));
                layer_->setValue(most_telling(*layers_));
                if (tabs_->currentIndex() == Tab::layers) show_layer(layer_->value());
            };
        });
}

void PrintWindow::show_layer(int index) {
    if (!layers_ || layers_->layers.empty()) return;
    const print::Layer& layer = layers_->layers[static_cast<std::size_t>(index)];
    picture_->show_layer({layer.regions, layers_->box, layers_->across, plan_, (layer.from_mm + layer.to_mm) / 2});
    QString said = tr("%1 of %2").arg(index + 1).arg(layers_->layers.size());
    if (layer.extra.islands > 0) said += tr(" · islands %1").arg(layer.extra.islands);
    if (layer.lost_islands > 0) said += tr(" · %1 come off").arg(layer.lost_islands);
    layer_said_->setText(said);
}

void PrintWindow::show_look() {
    const Mode mode = shown_->standing.mode;
    const auto lights = print::lightings(mode);
    if (look_->count() != static_cast<int>(lights.size()) ||
        look_->itemText(0) != text(print::title_of(lights.front()))) {
        const QSignalBlocker quiet(look_);
        look_->clear();
        for (const print::Lighting one : lights)
            look_->addItem(text(print::title_of(one)));
    }
    const print::Lighting lighting = lights[static_cast<std::size_t>(std::max(0, look_->currentIndex()))];
    QString said;
    if (shown_->reading)
        for (const print::CodeTry& one : shown_->reading->tries)
            if (one.lighting == lighting)
                said = one.read()      ? tr("A decoder reads the code however it is held.")
                       : one.right > 0 ? tr("A decoder reads it in %1 of %2 pictures.").arg(one.right).arg(one.pictures)
                                       : tr("A decoder does not read it.");
    if (shown_->light && !shown_->light->contrast.empty())
        said += tr(" Contrast %1, through %2 mm of wall.")
                    .arg(shown_->light->least_contrast(), 0, 'f', 2)
                    .arg(shown_->light->thickest_mm, 0, 'f', 1);
    look_said_->setText(said);
    work_.run(tr("Lighting the print"),
              [this, printed = shown_, lighting](const Progress& progress) -> session::Lane::Deliver {
                  const Box2 box = shown_box(*printed);
                  const auto picture = print::appearance(printed->printed, printed->light ? &*printed->light : nullptr,
                                                         lighting, box, 0.6 * pixels_a_mm(box), progress);
                  if (!picture) return {};
                  return [this, printed, image = image_of(*picture), mm = box.width()] {
                      picture_->show_image(image, mm);
                      read_lettering(printed);
                  };
              });
}

/// Once for each print: a reader of print is a program of its own and takes its time.
void PrintWindow::read_lettering(std::shared_ptr<const print::PrintedMark> printed) {
    if (printed->pieces.empty() || read_ == printed) return show_reading();
    read_ = printed;
    words_read_.clear();
    reading_.run(tr("Reading the print"), [this, printed](const Progress& progress) -> session::Lane::Deliver {
        if (!print::can_read_text()) return {};
        const auto found = print::read_text(*printed, progress);
        if (!found) return {};
        const std::size_t all = printed->pieces.size();
        const QString words = tr("In %1 Tesseract reads “%2”: %3 of %4 characters right; a clean picture flatters.")
                                  .arg(text(print::title_of(found->lighting)), text(found->read))
                                  .arg(all - found->wrong())
                                  .arg(all);
        return [this, words] {
            words_read_ = words;
            show_reading();
        };
    });
}

void PrintWindow::show_reading() {
    if (!words_read_.isEmpty() && read_ == shown_ && !look_said_->text().contains(words_read_))
        look_said_->setText(QStringList{look_said_->text(), words_read_}.join(QLatin1Char(' ')).trimmed());
}

} // namespace touchmark::panels
