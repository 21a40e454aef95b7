//! One layer of a spar cap.

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::design::CapMaterial;
use crate::physics::laminate::construction::LOWER_BOUND_ALLOWANCE;
use crate::physics::laminate::ply;
use crate::physics::material::Library;

/// Compression strength of hand-laid unidirectional plies over tension: waviness and resin decide.
/// An allowance of ours; take your own from samples.
pub const CAP_WAVINESS_ALLOWANCE: f64 = 0.7;

/// What one layer is.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CapLayer {
    pub thickness_m: f64,
    pub areal_kg_m2: f64,
    pub modulus_pa: f64,
    /// Strain limits, lower bound.
    pub strain_tension: f64,
    pub strain_compression: f64,
    pub price_per_m2: f64,
}

/// A layer of the given material.
/// Unchecked: no outside check runs it by itself.
pub fn layer(material: &CapMaterial, lib: &Library, assumed: &Assumptions) -> CapLayer {
    match material {
        CapMaterial::Plies(p) => {
            let (Some(cloth), Some(process), Some(resin)) =
                (lib.fabrics.get(p.fabric), lib.processes.get(p.process), lib.resin())
            else {
                return CapLayer::default();
            };
            let Some(fibre) = lib.fibres.get(cloth.fibre) else { return CapLayer::default() };
            let learnt = lib.learnt.assumptions(assumed);
            let c = ply::cure(cloth, fibre, resin, process, learnt.of(Assumed::FibreFraction));
            CapLayer {
                thickness_m: c.thickness_m,
                areal_kg_m2: c.fibre_kg_m2 + c.resin_kg_m2,
                modulus_pa: c.lamina.e1_pa * assumed.of(Assumed::FaceStiffness),
                strain_tension: LOWER_BOUND_ALLOWANCE * fibre.failure_strain,
                strain_compression: LOWER_BOUND_ALLOWANCE
                    * CAP_WAVINESS_ALLOWANCE
                    * fibre.failure_strain
                    * fibre.compression_share,
                price_per_m2: ply::price_per_m2(cloth, process, resin, &c),
            }
        }
        CapMaterial::Wood { wood, layer_m } => lib.woods.get(*wood).map_or_else(CapLayer::default, |w| CapLayer {
            thickness_m: *layer_m,
            areal_kg_m2: layer_m * w.density_kg_m3,
            modulus_pa: w.modulus_pa,
            strain_tension: LOWER_BOUND_ALLOWANCE * w.tension_pa / w.modulus_pa,
            strain_compression: LOWER_BOUND_ALLOWANCE * w.compression_pa / w.modulus_pa,
            price_per_m2: layer_m * w.price_per_m3,
        }),
        CapMaterial::Pultruded { layer_m, modulus_pa, density_kg_m3, tension_pa, compression_pa, price_per_kg } => {
            CapLayer {
                thickness_m: *layer_m,
                areal_kg_m2: layer_m * density_kg_m3,
                modulus_pa: *modulus_pa,
                strain_tension: tension_pa / modulus_pa,
                strain_compression: compression_pa / modulus_pa,
                price_per_m2: layer_m * density_kg_m3 * price_per_kg,
            }
        }
    }
}
