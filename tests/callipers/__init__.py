"""Tests of the measuring back of finished meshes."""
