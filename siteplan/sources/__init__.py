"""The cited works behind every figure."""
