//! The records of a scrimmage as a Parquet file, for whoever reads millions of them elsewhere. The
//! columns are those of [`records`]; an empty cell is a null. Uncompressed; nothing else is needed
//! to read it.

use std::io::{self, Write};
use std::sync::Arc;

use parquet::basic::{LogicalType, Repetition, Type as Physical};
use parquet::data_type::{ByteArray, ByteArrayType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::SerializedFileWriter;
use parquet::schema::types::Type;

use crate::scrimmage::Row;

use super::records::{Cell, Kind, cells, columns};

/// Records of one group: so many are held back before they are written, whatever the whole comes to.
const GROUP: usize = 8192;

fn plain(error: ParquetError) -> io::Error {
    match error {
        ParquetError::External(e) => match e.downcast::<io::Error>() {
            Ok(e) => *e,
            Err(e) => io::Error::other(e),
        },
        other => io::Error::other(other),
    }
}

/// A Parquet file that is written as the possessions come.
pub struct Records<W: Write + Send> {
    out: SerializedFileWriter<W>,
    /// Column by column.
    held: Vec<Vec<Cell>>,
}

impl<W: Write + Send> Records<W> {
    /// Starts the file with its columns.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn start(out: W) -> io::Result<Self> {
        let fields = columns().into_iter().map(|c| {
            let (name, kind) = (c.column.name, c.kind);
            let (physical, logical) = match kind {
                Kind::Word => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
                Kind::Whole => (Physical::INT64, None),
                Kind::Number | Kind::Time => (Physical::DOUBLE, None),
            };
            Type::primitive_type_builder(&name, physical)
                .with_repetition(Repetition::OPTIONAL)
                .with_logical_type(logical)
                .build()
                .map(Arc::new)
        });
        let fields = fields.collect::<Result<Vec<_>, _>>().map_err(plain)?;
        let held = fields.iter().map(|_| Vec::with_capacity(GROUP)).collect();
        let schema = Type::group_type_builder("possession")
            .with_fields(fields)
            .build()
            .map_err(plain)?;
        let properties = WriterProperties::builder()
            .set_created_by(concat!("lanelight ", env!("CARGO_PKG_VERSION")).to_string())
            .build();
        let out = SerializedFileWriter::new(out, Arc::new(schema), Arc::new(properties))
            .map_err(plain)?;
        Ok(Records { out, held })
    }

    /// Adds a possession.
    ///
    /// # Errors
    /// If a group is full and cannot be written.
    pub fn add(&mut self, row: &Row) -> io::Result<()> {
        for (column, cell) in self.held.iter_mut().zip(cells(row)) {
            column.push(cell);
        }
        if self.held.first().is_some_and(|c| c.len() >= GROUP) {
            self.group().map_err(plain)?;
        }
        Ok(())
    }

    /// Writes what is left and gives back what was written to.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn finish(mut self) -> io::Result<W> {
        if self.held.first().is_some_and(|c| !c.is_empty()) {
            self.group().map_err(plain)?;
        }
        self.out.into_inner().map_err(plain)
    }

    fn group(&mut self) -> Result<(), ParquetError> {
        let mut group = self.out.next_row_group()?;
        for (column, of) in self.held.iter_mut().zip(columns()) {
            let Some(mut out) = group.next_column()? else {
                break;
            };
            let there: Vec<i16> = column.iter().map(|c| i16::from(is_there(c))).collect();
            match of.kind {
                Kind::Word => {
                    let words = column.iter().filter_map(|c| match c {
                        Cell::Word(Some(word)) => Some(ByteArray::from(word.as_str())),
                        _ => None,
                    });
                    let values: Vec<_> = words.collect();
                    out.typed::<ByteArrayType>()
                        .write_batch(&values, Some(&there), None)?;
                }
                Kind::Whole => {
                    let values: Vec<i64> = column
                        .iter()
                        .filter_map(|c| match c {
                            Cell::Whole(Some(n)) => Some(*n as i64),
                            _ => None,
                        })
                        .collect();
                    out.typed::<Int64Type>()
                        .write_batch(&values, Some(&there), None)?;
                }
                Kind::Number | Kind::Time => {
                    let values: Vec<f64> = column
                        .iter()
                        .filter_map(|c| match c {
                            Cell::Number(Some(x)) => Some(*x),
                            // Whole ticks, without the dust of binary fractions.
                            Cell::Time(x) => Some((x * 100.0).round() / 100.0),
                            _ => None,
                        })
                        .collect();
                    out.typed::<DoubleType>()
                        .write_batch(&values, Some(&there), None)?;
                }
            }
            out.close()?;
            column.clear();
        }
        group.close()?;
        Ok(())
    }
}

fn is_there(cell: &Cell) -> bool {
    !matches!(
        cell,
        Cell::Word(None) | Cell::Whole(None) | Cell::Number(None)
    )
}
