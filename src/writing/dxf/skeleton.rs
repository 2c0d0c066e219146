//! What a DXF file needs around its entities.

use super::layers::{Layers, layer_colour};
use super::tag_writer::TagWriter;
use super::version::DxfVersion;
use crate::geometry::Point;
use std::io;

/// Handle of the first entity; all of the skeleton's are below.
pub(super) const FIRST_ENTITY: u64 = 0x100;

/// Handle of layer 0, the first in the table.
const FIRST_LAYER: u64 = 0x40;

/// The least and greatest coordinates of all entities.
pub(super) struct Extents {
    pub(super) low: Point,
    pub(super) high: Point,
}

/// Everything up to the first entity; `count` of them are to come.
pub(super) fn head(
    file: &mut TagWriter<'_>,
    version: DxfVersion,
    extents: &Extents,
    count: usize,
    layers: &Layers,
) -> io::Result<()> {
    file.tags("0 SECTION;2 HEADER;9 $ACADVER");
    match version {
        DxfVersion::R2000 => file.tags("1 AC1015;9 $DWGCODEPAGE;3 ANSI_1252"),
        DxfVersion::R12 => file.tags("1 AC1009"),
    }
    header_geometry(file, extents)?;
    // R12 has neither variable, but importers that look for units look for these in any file.
    file.tags("9 $INSUNITS;70 4;9 $MEASUREMENT;70 1");
    match version {
        DxfVersion::R2000 => {
            file.tags("9 $HANDSEED");
            file.raw("5\n");
            file.digits(FIRST_ENTITY + count as u64, 16);
            file.raw("\n");
            file.tags("0 ENDSEC;0 SECTION;2 CLASSES;0 ENDSEC;0 SECTION;2 TABLES");
            viewport(file, extents)?;
            file.tags(LINE_TYPES);
            write_layers(file, version, layers);
            file.tags(OTHER_TABLES);
            file.tags(BLOCKS);
        }
        DxfVersion::R12 => {
            file.tags(R12_LINE_TYPES);
            write_layers(file, version, layers);
            file.tags(R12_STYLES_AND_BLOCKS);
        }
    }
    file.tags("0 SECTION;2 ENTITIES");
    Ok(())
}

/// Everything after the last entity.
pub(super) fn tail(file: &mut TagWriter<'_>, version: DxfVersion) {
    file.tags("0 ENDSEC");
    match version {
        DxfVersion::R2000 => file.tags(OBJECTS),
        DxfVersion::R12 => {}
    }
    file.tags("0 EOF");
}

fn header_geometry(file: &mut TagWriter<'_>, extents: &Extents) -> io::Result<()> {
    file.tags("9 $INSBASE;10 0.0;20 0.0;30 0.0;9 $EXTMIN");
    file.point(["10", "20"], extents.low)?;
    file.tags("30 0.0;9 $EXTMAX");
    file.point(["10", "20"], extents.high)?;
    file.tags("30 0.0;9 $LIMMIN");
    file.point(["10", "20"], extents.low)?;
    file.tags("9 $LIMMAX");
    file.point(["10", "20"], extents.high)?;
    // Decimal lengths with four places on screen.
    file.tags("9 $LUNITS;70 2;9 $LUPREC;70 4");
    Ok(())
}

/// The view on opening: the whole drawing.
fn viewport(file: &mut TagWriter<'_>, extents: &Extents) -> io::Result<()> {
    let size = extents.low.to(extents.high);
    file.tags("0 TABLE;2 VPORT;5 8;330 0;100 AcDbSymbolTable;70 1");
    file.tags("0 VPORT;5 30;330 8;100 AcDbSymbolTableRecord;100 AcDbViewportTableRecord");
    file.tags("2 *Active;70 0;10 0.0;20 0.0;11 1.0;21 1.0");
    file.point(["12", "22"], extents.low + size * 0.5)?;
    file.tags("13 0.0;23 0.0;14 10.0;24 10.0;15 10.0;25 10.0;16 0.0;26 0.0;36 1.0");
    file.tags("17 0.0;27 0.0;37 0.0");
    // Height of the view for a window twice as wide as high; never nothing.
    file.raw("40\n");
    file.number((size.x / 2.0).max(size.y).max(1.0))?;
    file.raw("\n");
    file.tags("41 2.0;42 50.0;43 0.0;44 0.0;50 0.0;51 0.0;71 0;72 100;73 1;74 3;75 0;76 0");
    file.tags("77 0;78 0;0 ENDTAB");
    Ok(())
}

fn write_layers(file: &mut TagWriter<'_>, version: DxfVersion, layers: &Layers) {
    let named = layers
        .works
        .iter()
        .map(|work| (work.layer(), layer_colour(layers.colours, *work).get()));
    let all = [("0", 7)].into_iter().chain(named);
    let count = layers.works.len() + 1;
    match version {
        DxfVersion::R2000 => {
            file.tags(&format!(
                "0 TABLE;2 LAYER;5 2;330 0;100 AcDbSymbolTable;70 {count}"
            ));
            for (handle, (name, colour)) in (FIRST_LAYER..).zip(all) {
                file.tags(&format!(
                    "0 LAYER;5 {handle:X};330 2;100 AcDbSymbolTableRecord;\
                     100 AcDbLayerTableRecord;2 {name};70 0;62 {colour};6 Continuous;370 -3;390 F"
                ));
            }
        }
        DxfVersion::R12 => {
            file.tags(&format!("0 TABLE;2 LAYER;70 {count}"));
            for (name, colour) in all {
                file.tags(&format!("0 LAYER;2 {name};70 0;62 {colour};6 CONTINUOUS"));
            }
        }
    }
    file.tags("0 ENDTAB");
}

const LINE_TYPES: &str = "0 TABLE;2 LTYPE;5 5;330 0;100 AcDbSymbolTable;70 3;\
    0 LTYPE;5 14;330 5;100 AcDbSymbolTableRecord;100 AcDbLinetypeTableRecord;\
    2 ByBlock;70 0;3;72 65;73 0;40 0.0;\
    0 LTYPE;5 15;330 5;100 AcDbSymbolTableRecord;100 AcDbLinetypeTableRecord;\
    2 ByLayer;70 0;3;72 65;73 0;40 0.0;\
    0 LTYPE;5 16;330 5;100 AcDbSymbolTableRecord;100 AcDbLinetypeTableRecord;\
    2 Continuous;70 0;3 Solid line;72 65;73 0;40 0.0;0 ENDTAB";

const OTHER_TABLES: &str = "0 TABLE;2 STYLE;5 3;330 0;100 AcDbSymbolTable;70 1;\
    0 STYLE;5 11;330 3;100 AcDbSymbolTableRecord;100 AcDbTextStyleTableRecord;\
    2 Standard;70 0;40 0.0;41 1.0;50 0.0;71 0;42 2.5;3 txt;4;0 ENDTAB;\
    0 TABLE;2 VIEW;5 6;330 0;100 AcDbSymbolTable;70 0;0 ENDTAB;\
    0 TABLE;2 UCS;5 7;330 0;100 AcDbSymbolTable;70 0;0 ENDTAB;\
    0 TABLE;2 APPID;5 9;330 0;100 AcDbSymbolTable;70 1;\
    0 APPID;5 12;330 9;100 AcDbSymbolTableRecord;100 AcDbRegAppTableRecord;\
    2 ACAD;70 0;0 ENDTAB;\
    0 TABLE;2 DIMSTYLE;5 A;330 0;100 AcDbSymbolTable;70 1;100 AcDbDimStyleTable;\
    0 DIMSTYLE;105 27;330 A;100 AcDbSymbolTableRecord;100 AcDbDimStyleTableRecord;\
    2 Standard;70 0;340 11;0 ENDTAB;\
    0 TABLE;2 BLOCK_RECORD;5 1;330 0;100 AcDbSymbolTable;70 2;\
    0 BLOCK_RECORD;5 1F;330 1;100 AcDbSymbolTableRecord;100 AcDbBlockTableRecord;\
    2 *Model_Space;340 0;\
    0 BLOCK_RECORD;5 1B;330 1;100 AcDbSymbolTableRecord;100 AcDbBlockTableRecord;\
    2 *Paper_Space;340 0;0 ENDTAB;0 ENDSEC";

const BLOCKS: &str = "0 SECTION;2 BLOCKS;\
    0 BLOCK;5 20;330 1F;100 AcDbEntity;8 0;100 AcDbBlockBegin;\
    2 *Model_Space;70 0;10 0.0;20 0.0;30 0.0;3 *Model_Space;1;\
    0 ENDBLK;5 21;330 1F;100 AcDbEntity;8 0;100 AcDbBlockEnd;\
    0 BLOCK;5 1C;330 1B;100 AcDbEntity;67 1;8 0;100 AcDbBlockBegin;\
    2 *Paper_Space;70 0;10 0.0;20 0.0;30 0.0;3 *Paper_Space;1;\
    0 ENDBLK;5 1D;330 1B;100 AcDbEntity;67 1;8 0;100 AcDbBlockEnd;0 ENDSEC";

const OBJECTS: &str = "0 SECTION;2 OBJECTS;\
    0 DICTIONARY;5 C;330 0;100 AcDbDictionary;281 1;\
    3 ACAD_GROUP;350 D;3 ACAD_PLOTSTYLENAME;350 E;\
    0 DICTIONARY;5 D;330 C;100 AcDbDictionary;281 1;\
    0 ACDBDICTIONARYWDFLT;5 E;330 C;100 AcDbDictionary;281 1;\
    3 Normal;350 F;100 AcDbDictionaryWithDefault;340 F;\
    0 ACDBPLACEHOLDER;5 F;330 E;0 ENDSEC";

const R12_LINE_TYPES: &str = "0 ENDSEC;0 SECTION;2 TABLES;\
    0 TABLE;2 LTYPE;70 1;0 LTYPE;2 CONTINUOUS;70 0;3 Solid line;72 65;73 0;40 0.0;0 ENDTAB";

const R12_STYLES_AND_BLOCKS: &str = "0 TABLE;2 STYLE;70 1;\
    0 STYLE;2 STANDARD;70 0;40 0.0;41 1.0;50 0.0;71 0;42 2.5;3 txt;4;0 ENDTAB;0 ENDSEC;\
    0 SECTION;2 BLOCKS;\
    0 BLOCK;8 0;2 $MODEL_SPACE;70 0;10 0.0;20 0.0;30 0.0;3 $MODEL_SPACE;1;0 ENDBLK;8 0;\
    0 BLOCK;8 0;2 $PAPER_SPACE;70 0;10 0.0;20 0.0;30 0.0;3 $PAPER_SPACE;1;0 ENDBLK;8 0;\
    0 ENDSEC";
