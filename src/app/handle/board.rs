//! What is seen and typed about the board, and what its commands do.

use crate::app::App;
use crate::app::board::done::{BoardDone, RackAnswer, Wanted};
use crate::app::commands::board::{BoardCommand, PiecesQuestion, Tool};
use crate::app::documents::dialogs::Asked;
use crate::app::handle::{as_svg, start};
use crate::app::shop::machines::MachineDialog;
use crate::app::shop::rack::RackDialog;
use crate::app::work::Lane;
use crate::job::{Edit, EditKind, Job, Piece, Placement, Size, Turns};
use crate::proof::carrier::carrier;
use crate::sheet::carrier::carrier_svg;
use crate::shop::{BoardPhoto, Machine, RackBoard, RackError, Shop, change_rack, open_rack};
use crate::words::capitalised;
use crate::words::notices;
use crate::words::window::{handle as said, pieces};
use std::sync::Arc;

/// Commands.
impl App {
    pub(crate) fn handle_board(&mut self, ctx: &egui::Context, command: BoardCommand) {
        use BoardCommand as B;
        match command {
            B::Turn => {
                self.edit(Edit::TurnByQuarter);
            }
            B::FindPlace => self.find_place(Wanted::AtSize),
            B::FindLargest => self.find_place(Wanted::Largest),
            B::UseTool(tool) => {
                let hand = &mut self.views.board.hand;
                // The same tool again puts it down.
                hand.tool = if hand.tool == tool { Tool::Look } else { tool };
                hand.held = None;
                hand.focus_canvas = true;
                // One thing at a time has the pointer.
                self.views.board.tools.measuring = false;
            }
            B::Nudge(by) => {
                self.edit(Edit::Nudge(by));
            }
            B::Grab | B::Drop => {
                if let Some(shown) = self.shelf.shown_mut() {
                    shown.history.close();
                }
            }
            B::Drag([x, y]) => self.drag(Edit::Place(Placement::At { x, y })),
            B::Place([x, y]) => {
                self.edit(Edit::Place(Placement::At { x, y }));
            }
            B::TakeSize(size) => {
                self.edit(Edit::BoardSize(size));
            }
            B::SideMargin(margin) => {
                self.edit(Edit::SideMargin(margin));
            }
            B::Mark(_) | B::EditBlemish(..) | B::Unmark(_) | B::ChooseBlemish(_) => {
                self.handle_blemish(&command);
            }
            B::Measured(check, length) => {
                self.edit(Edit::Measured(check, length));
            }
            B::Planed(planed) => {
                self.edit(Edit::Planed(planed));
            }
            B::Moisture(moisture) => {
                self.edit(Edit::Moisture(moisture));
            }
            B::ToggleFit => self.views.board.fit_open ^= true,
            B::ToggleBlemishes => {
                self.views.board.blemishes.open ^= true;
                if Tool::MARKING.contains(&self.views.board.hand.tool) {
                    self.views.board.hand.tool = Tool::Look;
                }
            }
            B::ToggleBenchList => self.views.board.bench_list_open ^= true,
            B::ToggleMachines => {
                let unit = self.preferences.unit;
                let dialog = self.job().map(|job| MachineDialog::showing(job.machine(), unit));
                self.dialogs.shop.machines = if self.dialogs.shop.machines.is_some() { None } else { dialog };
            }
            B::ToggleMeasuring => self.dialogs.shop.measuring_open ^= true,
            B::KeepMachine(machine) => self.keep_machine(&machine),
            B::RemoveMachine(id) => {
                self.change_shop(
                    |folder| Shop::remove_machine(folder, &id).map(|_| None),
                    said::REMOVED_THE_MACHINE,
                );
            }
            B::AskExportCarrier => self.ask_for(Asked::Carrier, ctx),
            B::ExportCarrier(path) => {
                if let Some(job) = self.job() {
                    let (carrier, unit) = (carrier(job), self.preferences.unit);
                    self.workers.write(as_svg(path), move || carrier_svg(&carrier, unit));
                }
            }
            B::ToggleRack => self.toggle_rack(),
            B::KeepOnRack(index, board) => self.keep_on_rack(index, *board),
            B::TakeOffRack(index) => self.change_rack(said::TOOK_IT_OFF_THE_RACK, |boards| {
                if index < boards.len() {
                    boards.remove(index);
                }
            }),
            B::UseRackBoard(row) => self.use_rack_board(row),
            B::TogglePieces
            | B::Arrange
            | B::AskOfPieces(_)
            | B::AskNames
            | B::OpenNames(_)
            | B::MakeNames(_)
            | B::AddOpenJob(_) => self.handle_pieces(ctx, command),
            B::TogglePhoto => self.views.board.photo.open ^= true,
            B::AskPhoto => self.ask_for(Asked::Photo, ctx),
            B::OpenPhoto(path) => self.workers.photograph(path),
            B::LayPhoto(corners) => {
                if let Some(file) = self.views.board.photo.file() {
                    self.edit(Edit::Photo(Some(BoardPhoto { file, corners })));
                }
            }
            B::LiftPhoto => {
                self.edit(Edit::Photo(None));
            }
        }
    }

    fn handle_pieces(&mut self, ctx: &egui::Context, command: BoardCommand) {
        match command {
            BoardCommand::TogglePieces => self.views.board.pieces.open ^= true,
            BoardCommand::Arrange => self.arrange(),
            BoardCommand::AskOfPieces(question) => self.ask_of_pieces(question),
            BoardCommand::AskNames => self.ask_for(Asked::Names, ctx),
            BoardCommand::OpenNames(path) => self.workers.open_names(path),
            BoardCommand::MakeNames(list) => {
                self.views.board.pieces.problem = None;
                if let Some(shown) = self.shelf.shown() {
                    self.workers.make_names(shown.job().clone(), list);
                }
            }
            BoardCommand::AddOpenJob(at) => self.add_open_job(at),
            _ => {}
        }
    }

    fn handle_blemish(&mut self, command: &BoardCommand) {
        match *command {
            BoardCommand::Mark(blemish) => {
                let marked = self.edit(Edit::AddBlemish(blemish));
                let last = self.job().and_then(|job| job.board().blemishes.len().checked_sub(1));
                let blemishes = &mut self.views.board.blemishes;
                blemishes.open |= marked;
                if marked {
                    blemishes.chosen = last;
                }
            }
            BoardCommand::EditBlemish(index, blemish) => {
                self.edit(Edit::ChangeBlemish(index, blemish));
                // The next is likely of the same sort.
                (self.views.board.blemishes.kind, self.views.board.blemishes.clearance) =
                    (blemish.kind, blemish.clearance);
            }
            BoardCommand::Unmark(index) => {
                self.edit(Edit::RemoveBlemish(index));
                self.views.board.blemishes.chosen = None;
            }
            BoardCommand::ChooseBlemish(index) => {
                self.views.board.blemishes.chosen = index;
                self.views.board.blemishes.open |= index.is_some();
                self.views.drafts.clear();
            }
            _ => {}
        }
    }

    fn arrange(&mut self) {
        if let Some(shown) = self.shelf.shown() {
            self.workers.arrange(shown.job().clone());
        }
    }

    fn ask_of_pieces(&mut self, question: PiecesQuestion) {
        let asked = match question {
            PiecesQuestion::Shortest => start::Asked::Shortest,
            PiecesQuestion::Rack => match self.boards() {
                Ok(boards) => start::Asked::Rack(boards, Box::new(self.shop.clone())),
                Err(message) => return self.warn(message),
            },
        };
        if let Some(shown) = self.shelf.shown() {
            self.workers.ask_of_pieces(shown.job().clone(), asked);
        }
    }

    fn add_open_job(&mut self, at: usize) {
        let other = self.shelf.all().get(at).map(|document| document.job().clone());
        if let Some(other) = other {
            self.edit(Edit::AddPiece(Box::new(Piece::of(&other, 1, Turns::None))));
        }
    }

    fn find_place(&mut self, wanted: Wanted) {
        if let Some(shown) = self.shelf.shown() {
            self.workers.find_place(shown.job().clone(), wanted);
        }
    }

    fn keep_machine(&mut self, machine: &Machine) {
        let kept = self.change_shop(|folder| Shop::keep_machine(folder, machine), &said::kept(&machine.name));
        if kept && self.job().is_some_and(|job| job.machine().id == machine.id) {
            self.edit(Edit::Machine(Box::new(machine.clone())));
        }
    }

    fn toggle_rack(&mut self) {
        if self.dialogs.shop.rack.take().is_some() {
            self.workers.cancel(Lane::Racking);
            return;
        }
        match self.boards() {
            Ok(boards) => self.dialogs.shop.rack = Some(RackDialog::holding(boards)),
            Err(message) => self.warn(message),
        }
    }

    /// The boards on the rack as they are kept; none where there is no place to keep them.
    pub(crate) fn boards(&self) -> Result<Vec<RackBoard>, String> {
        let boards = self.shop_folder.as_deref().map(open_rack);
        boards.unwrap_or(Ok(Vec::new())).map_err(|error| error.to_string())
    }

    fn keep_on_rack(&mut self, index: Option<usize>, board: RackBoard) {
        let kept = said::kept_on_the_rack(&board.name);
        self.change_rack(&kept, |boards| match index.and_then(|index| boards.get_mut(index)) {
            Some(slot) => *slot = board,
            None => boards.push(board),
        });
    }

    /// Changes the rack on disk, and takes in what is there then. Other programs wait meanwhile, so that nothing another
    /// window or `spelk rack` puts there is lost.
    fn change_rack(&mut self, said: &str, change: impl FnOnce(&mut Vec<RackBoard>)) {
        let Some(folder) = self.shop_folder.clone() else {
            self.warn(crate::words::window::NO_SHOP_FOLDER);
            return;
        };
        let changed = change_rack(&folder, |boards| {
            change(boards);
            Ok::<(), RackError>(())
        });
        match changed {
            Ok((boards, aside)) => {
                self.say(said);
                self.tell_aside(aside.as_ref());
                if let Some(dialog) = &mut self.dialogs.shop.rack {
                    dialog.take_boards(boards);
                }
            }
            Err(error) => self.warn(error.to_string()),
        }
    }

    fn use_rack_board(&mut self, row: usize) {
        let (Some(dialog), Some(shown)) = (&self.dialogs.shop.rack, self.shelf.shown()) else { return };
        // A comparison for what the job was before says nothing about it now.
        let Some(row) = dialog.row_for(shown.job(), row) else { return };
        let (name, of_row) = (row.name.clone(), &row.job);
        // On a bare board the largest that fits goes on following the board.
        let follows = shown.job().size() == Size::Fit && of_row.board().blemishes.is_empty();
        let edits = vec![
            Edit::Board(Box::new(of_row.board().clone())),
            Edit::Wood(Box::new(of_row.wood().clone())),
            Edit::Size(if follows { Size::Fit } else { of_row.size() }),
            Edit::Turn(of_row.turn()),
            Edit::Place(of_row.at()),
        ];
        self.edit(Edit::Several(EditKind::RackBoard, edits));
        self.say(said::is_the_jobs_board(&name));
        self.views.board.camera = None;
        self.views.board.blemishes.chosen = None;
    }

    /// Takes in what a worker brought about the board.
    pub(crate) fn take_board_done(&mut self, ctx: &egui::Context, done: BoardDone) {
        match done {
            BoardDone::Placed { job, wanted, found, largest } => {
                // Nothing is moved that was changed meanwhile.
                let Some(shown) = self.shelf.shown().filter(|shown| shown.is_still(&job)) else { return };
                match (found, largest) {
                    (Some(found), _) => {
                        // The size as it was set stays as it was set, where it is the same.
                        let keeps_size = wanted == Wanted::AtSize && found.turn == shown.job().turn();
                        let edit = if keeps_size { found.edit_of_place() } else { found.edit() };
                        let is_moved = self.edit(edit);
                        let (corner, unit) = ([found.x, found.y], self.preferences.unit);
                        self.say(said::found_place(corner, found.pitch, is_moved, unit));
                    }
                    (None, Some(largest)) => self.warn(said::clear_place_up_to(largest.factor)),
                    (None, None) => self.warn(said::NO_CLEAR_PLACE_AT_ANY_SIZE),
                }
            }
            BoardDone::Arranged(job, found) => {
                if !self.shelf.shown().is_some_and(|shown| shown.is_still(&job)) {
                    return;
                }
                match found {
                    Ok(found) => {
                        self.edit(found.edit());
                        let (left, unit) = (found.left_over.iter().sum(), self.preferences.unit);
                        self.say(pieces::arranged(found.count(), left, found.used, unit));
                    }
                    Err(why) => self.warn(capitalised(&why.to_string())),
                }
            }
            BoardDone::Answered(job, answer) => match answer {
                Ok(answer) => self.views.board.pieces.take_answer(job, answer),
                Err(why) => self.warn(capitalised(&why.to_string())),
            },
            BoardDone::Batched(batched) => self.views.board.pieces.take_batched(batched),
            BoardDone::NamesRead(read) => match read {
                Ok(names) => {
                    self.views.board.pieces.names = names;
                    self.views.board.pieces.problem = None;
                }
                Err(message) => self.warn(message),
            },
            BoardDone::Named(job, made) => self.take_named(&job, made),
            BoardDone::Racked(job, answer) => {
                let answer = answer.unwrap_or_else(|unusable| {
                    self.warn(unusable.to_string());
                    RackAnswer::default()
                });
                if let Some(dialog) = &mut self.dialogs.shop.rack {
                    dialog.take_answer(job, answer);
                }
            }
            BoardDone::Photographed(file, photo, small, noticed) => {
                for &notice in &noticed {
                    self.say(notices::line(notices::photo(notice), Some(notices::photo_hint(notice))));
                }
                let texture = ctx.load_texture("photograph", *small, egui::TextureOptions::LINEAR);
                let board = self.shelf.shown().map(|shown| shown.job().board());
                self.views.board.photo.take(file, photo, texture, board);
            }
            BoardDone::NotPhotographed(message) => {
                self.views.board.photo.failed();
                self.warn(message);
            }
        }
    }

    /// Nothing of the list is lost where it is refused.
    fn take_named(&mut self, job: &Arc<Job>, made: Result<(usize, Box<Edit>), String>) {
        match made {
            Ok((names, edit)) => {
                let is_still = self.shelf.shown().is_some_and(|shown| shown.is_still(job));
                if is_still && self.edit(*edit) {
                    self.say(pieces::named(names));
                    self.views.board.pieces.names.clear();
                }
            }
            Err(problem) => self.views.board.pieces.problem = Some(capitalised(&problem)),
        }
    }

    /// Starts what the windows of the board now need.
    pub(crate) fn start_board_work(&mut self) {
        self.open_named_photo();
        let unit = self.preferences.unit;
        if let Some(shown) = self.shelf.shown().filter(|shown| shown.is_current())
            && self.views.board.pieces.wants(shown.job(), &self.shop.prices, unit)
        {
            let job = shown.job().clone();
            self.views.board.pieces.works_for(job.clone());
            self.workers.batch(job, self.shop.prices.clone(), unit);
        }
        let shown = self.shelf.shown().filter(|shown| shown.is_current());
        let (Some(shown), Some(dialog)) = (shown, &mut self.dialogs.shop.rack) else { return };
        if dialog.wants_rows_for(shown.job()) {
            dialog.asked_for(shown.job().clone());
            self.workers.rack(&shown.proofed, dialog.boards().to_vec(), self.shop.clone());
        }
    }

    /// Opens the photograph the job's board names, once.
    fn open_named_photo(&mut self) {
        let Some(file) =
            self.job().and_then(|job| job.board().photo.as_ref()).map(|photo| photo.file.clone())
        else {
            return;
        };
        if !self.workers.busy(Lane::Photographing) && self.views.board.photo.wants(&file) {
            self.workers.photograph(file.into());
        }
    }
}
