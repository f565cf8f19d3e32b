//! Photographs of boards, straightened.

use glam::{DVec2, dvec2};
use proptest::prelude::*;
use spelk::geometry::Homography;
use spelk::notice::Notices;
use spelk::sheet::photo::{layer, photo_from_board, straightened};
use spelk::sheet::picture::View;
use spelk::shop::{Board, Photo, PhotoError};
use spelk::units::Mm;
use std::path::Path;

/// Reads a file as the edges do.
fn read(path: &Path) -> Result<Photo, PhotoError> {
    Photo::read(&std::fs::read(path).unwrap(), &mut Notices::new())
}

fn board(length: f64, width: f64) -> Board {
    Board { length: Mm::new(length), width: Mm::new(width), ..Board::default() }
}

/// A map known beforehand: `(2x + y + 3, x - y + 50) / (0.001 x + 0.002 y + 1)`.
fn known(p: DVec2) -> DVec2 {
    dvec2(2.0 * p.x + p.y + 3.0, p.x - p.y + 50.0) / (0.001 * p.x + 0.002 * p.y + 1.0)
}

#[test]
fn a_known_map_is_found_again_from_its_corners() {
    let corners = [dvec2(0.0, 0.0), dvec2(300.0, 0.0), dvec2(300.0, 80.0), dvec2(0.0, 80.0)];
    let map = Homography::between(corners, corners.map(known)).unwrap();
    for p in [dvec2(150.0, 40.0), dvec2(17.0, 71.0), dvec2(-40.0, 200.0)] {
        assert!((map.of(p) - known(p)).length() < 1e-9, "{p}: {}", map.of(p));
    }
    let back = Homography::between(corners.map(known), corners).unwrap();
    assert!((back.of(known(dvec2(99.0, 33.0))) - dvec2(99.0, 33.0)).length() < 1e-8, "there and back");
}

#[test]
fn corners_that_make_no_board_are_refused() {
    let line = [dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(20.0, 0.0), dvec2(0.0, 10.0)];
    assert!(matches!(photo_from_board(&board(100.0, 50.0), line), Err(PhotoError::FlatCorners)));
    let same = [DVec2::ONE; 4];
    assert!(matches!(photo_from_board(&board(100.0, 50.0), same), Err(PhotoError::FlatCorners)));
    let crossed = [dvec2(0.0, 0.0), dvec2(10.0, 10.0), dvec2(10.0, 0.0), dvec2(0.0, 10.0)];
    assert!(matches!(photo_from_board(&board(100.0, 50.0), crossed), Err(PhotoError::CrossedCorners)));
    let nan = [DVec2::NAN; 4];
    assert!(photo_from_board(&board(100.0, 50.0), nan).is_err());
}

/// A photograph painted through the known map: red where the board's x is under half, blue past it, and
/// green added where its y is past half.
fn painted(board: &Board) -> (Photo, [DVec2; 4]) {
    let (length, width) = (board.length.get(), board.width.get());
    let corners = [dvec2(0.0, 0.0), dvec2(length, 0.0), dvec2(length, width), dvec2(0.0, width)].map(known);
    let board_from_photo = Homography::between(
        corners,
        [dvec2(0.0, 0.0), dvec2(length, 0.0), dvec2(length, width), dvec2(0.0, width)],
    )
    .unwrap();
    let (w, h) = (600u32, 300u32);
    let mut pixels = Vec::new();
    for y in 0..h {
        for x in 0..w {
            let at = board_from_photo.of(dvec2(f64::from(x) + 0.5, f64::from(y) + 0.5));
            let red = if at.x < length / 2.0 { 255 } else { 0 };
            pixels.extend([red, if at.y > width / 2.0 { 200 } else { 0 }, 255 - red, 255]);
        }
    }
    (Photo::new(w, h, pixels).unwrap(), corners)
}

#[test]
fn a_straightened_board_is_at_true_scale_and_the_right_way_up() {
    let board = board(200.0, 60.0);
    let (photo, corners) = painted(&board);
    let straight = straightened(&photo, corners, &board, 2.0).unwrap();
    assert_eq!((straight.width, straight.height), (400, 120));
    // Rows run from the far edge down to the reference edge.
    assert_eq!(straight.pixel(100, 90), Some([255, 0, 0, 255]));
    assert_eq!(straight.pixel(100, 30), Some([255, 200, 0, 255]));
    assert_eq!(straight.pixel(300, 90), Some([0, 0, 255, 255]));
    // The change of colour is at half the length, to a pixel of the photograph.
    let red = |x: u32| straight.pixel(x, 90).unwrap()[0];
    assert!(red(197) > 200 && red(202) < 55, "{} {}", red(197), red(202));
    let view = View::of_board(&board, [220, 80], 10.0);
    let laid = layer(&photo, corners, &board, &view).unwrap();
    assert_eq!(laid.pixel(2, 2), Some([0; 4]), "nothing beside the board");
    assert_eq!(laid.pixel(60, 55), Some([255, 0, 0, 255]));
}

#[test]
fn a_photograph_is_opened_from_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("board.png");
    image::RgbaImage::from_pixel(7, 5, image::Rgba([10, 20, 30, 255])).save(&path).unwrap();
    assert_eq!(read(&path).unwrap().size(), [7, 5]);
    let path = folder.path().join("board.jpg");
    image::RgbImage::from_pixel(9, 6, image::Rgb([10, 20, 30])).save(&path).unwrap();
    assert_eq!(read(&path).unwrap().size(), [9, 6]);
    std::fs::write(&path, b"not a photograph").unwrap();
    assert!(matches!(read(&path), Err(PhotoError::Unreadable(_))));
    assert_eq!(Photo::new(2, 2, vec![0; 15]), None);
}

proptest! {
    /// Any four corners in convex position go where they are sent.
    #[test]
    fn corners_go_to_their_marks(
        nudges in prop::array::uniform8(-60.0..60.0f64),
        (length, width) in (100.0..3000.0f64, 20.0..400.0f64),
    ) {
        let n = nudges;
        let marks = [
            dvec2(100.0 + n[0], 500.0 + n[1]),
            dvec2(900.0 + n[2], 500.0 + n[3]),
            dvec2(900.0 + n[4], 200.0 + n[5]),
            dvec2(100.0 + n[6], 200.0 + n[7]),
        ];
        let map = photo_from_board(&board(length, width), marks).unwrap();
        let corners = [dvec2(0.0, 0.0), dvec2(length, 0.0), dvec2(length, width), dvec2(0.0, width)];
        for (corner, mark) in corners.into_iter().zip(marks) {
            prop_assert!((map.of(corner) - mark).length() < 1e-6);
        }
        // Straight lines stay straight: the middle of the board lies on both diagonals.
        let middle = map.of(corners[2] * 0.5);
        for [a, b] in [[marks[0], marks[2]], [marks[1], marks[3]]] {
            prop_assert!(((b - a).perp_dot(middle - a) / (b - a).length()).abs() < 1e-6);
        }
    }
}

/// A JPEG whose left half is dark, with the Exif tag that says how the camera was held (Exif 2.3,
/// section 4.6.4: tag 0112h, SHORT, 6 for a quarter turn clockwise to see it upright).
fn jpeg_held(orientation: u8) -> Vec<u8> {
    let mut image = image::RgbImage::from_pixel(80, 40, image::Rgb([250, 250, 250]));
    for y in 0..40 {
        for x in 0..40 {
            image.put_pixel(x, y, image::Rgb([5, 5, 5]));
        }
    }
    let mut jpeg = std::io::Cursor::new(Vec::new());
    image.write_to(&mut jpeg, image::ImageFormat::Jpeg).unwrap();
    let jpeg = jpeg.into_inner();
    let mut exif = b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0".to_vec();
    exif.extend([orientation, 0, 0, 0, 0, 0, 0, 0]);
    let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
    let segment = [&[0xFF, 0xE1], &length[..], &exif].concat();
    [&jpeg[..2], &segment, &jpeg[2..]].concat()
}

#[test]
fn a_photograph_is_opened_upright() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("held.jpg");
    let corner = |photo: &Photo, x: u32, y: u32| photo.pixels()[((y * photo.size()[0] + x) * 4) as usize];
    std::fs::write(&path, jpeg_held(1)).unwrap();
    let plain = read(&path).unwrap();
    assert_eq!(plain.size(), [80, 40]);
    assert!(corner(&plain, 5, 5) < 40 && corner(&plain, 75, 5) > 200, "dark on the left");
    std::fs::write(&path, jpeg_held(6)).unwrap();
    let turned = read(&path).unwrap();
    assert_eq!(turned.size(), [40, 80]);
    // A quarter turn clockwise brings the left side to the top.
    assert!(corner(&turned, 5, 5) < 40 && corner(&turned, 35, 5) < 40, "dark on top");
    assert!(corner(&turned, 5, 75) > 200 && corner(&turned, 35, 75) > 200, "light below");
    std::fs::write(&path, jpeg_held(3)).unwrap();
    let upside = read(&path).unwrap();
    assert!(corner(&upside, 5, 5) > 200 && corner(&upside, 75, 5) < 40, "dark on the right");
}

#[test]
fn a_photograph_is_shrunk_for_the_screen() {
    let pixels =
        (0..200u32 * 100).flat_map(|k| if k % 200 < 100 { [0, 0, 0, 255] } else { [255, 255, 255, 255] });
    let photo = Photo::new(200, 100, pixels.collect()).unwrap();
    assert_eq!(photo.shrunk(200), photo);
    let small = photo.shrunk(50);
    assert_eq!(small.size(), [50, 25]);
    assert_eq!((small.pixels()[0], small.pixels()[4 * 49]), (0, 255));
}
